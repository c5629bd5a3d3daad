import { access } from './access.js';
import { accounts } from './accounts.js';
import { answer } from './answer.js';
import { assumed } from './assumed.js';
import { audit } from './audit.js';
import { auditWay } from './audit-way.js';
import { away } from './away.js';
import { bench } from './bench.js';
import { butFor } from './but-for.js';
import { card } from './card.js';
import { change, level, onset, part, partResult, scope, stop, trialResult } from './case.js';
import { caseAgain } from './case-again.js';
import { caseFile } from './case-file.js';
import { caseSheet } from './case-sheet.js';
import { caseState } from './case-state.js';
import { cause } from './cause.js';
import { chance } from './chance.js';
import { changing } from './changing.js';
import { columnRole } from './column-role.js';
import { compare } from './compare.js';
import { complaint } from './complaint.js';
import { complaintState } from './complaint-state.js';
import { comparedSetting, computedFact, condition } from './condition.js';
import { convert } from './convert.js';
import { countAllowed } from './count-allowed.js';
import { countAnswer } from './count-answer.js';
import { countAssumed } from './count-assumed.js';
import { countExport } from './count-export.js';
import { countFigure, figureStanding } from './count-figure.js';
import { countFinding } from './count-finding.js';
import { countPicture } from './count-picture.js';
import { countQuestion } from './count-question.js';
import { countQuick } from './count-quick.js';
import { countSample } from './count-sample.js';
import { countWords, month } from './count-words.js';
import { counts } from './counts.js';
import { course } from './course.js';
import { curveSetting } from './curve-setting.js';
import { drawing } from './drawing.js';
import { drawingMeasure } from './drawing-measure.js';
import { drawingShow } from './drawing-show.js';
import { drawingStation } from './drawing-station.js';
import { drawingText } from './drawing-text.js';
import { drawingWord } from './drawing-word.js';
import { effect } from './effect.js';
import { endUse } from './end-use.js';
import { entry } from './entry.js';
import { family } from './family.js';
import { fault } from './fault.js';
import { fibre } from './fibre.js';
import { form } from './form.js';
import { home } from './home.js';
import { howKnown } from './how-known.js';
import { input } from './input.js';
import { judged } from './judged.js';
import { kept } from './kept.js';
import { knowledge } from './knowledge.js';
import {
  actionCost,
  actionGroup,
  checkGroup,
  knowledgeAbout,
  knowledgeCount,
  knowledgeKind,
  knowledgeOne,
  measured,
  signGroup,
  situation,
  strength,
  weight,
} from './knowledge-words.js';
import { learning } from './learning.js';
import { lesson } from './lesson.js';
import { limited } from './limited.js';
import { margin } from './margin.js';
import { marking } from './marking.js';
import { mill } from './mill.js';
import { number } from './number.js';
import { openFile } from './open-file.js';
import { option } from './option.js';
import { overview } from './overview.js';
import { ownCase } from './own-case.js';
import { page } from './page.js';
import { parts } from './parts.js';
import { plan } from './plan.js';
import { planMargin } from './plan-margin.js';
import {
  nozzleMaterial,
  objective,
  planLimit,
  planLimitMeaning,
  planStep,
  planWhy,
  planWords,
} from './plan-words.js';
import { practice } from './practice.js';
import { property } from './property.js';
import { quality } from './quality.js';
import { qualityDesk } from './quality-desk.js';
import { quantity } from './quantity.js';
import { reasoning } from './reasoning.js';
import { record } from './record.js';
import { keptKind, refused } from './refused.js';
import { replay } from './replay.js';
import { replayMeasured, replayStep } from './replay-step.js';
import { right, tokenRight } from './right.js';
import { role, roleAbout } from './role.js';
import { sensitivity } from './sensitivity.js';
import { setup } from './setup.js';
import { setupField } from './setup-field.js';
import { shell } from './shell.js';
import { sideBySide } from './side-by-side.js';
import { standing } from './standing.js';
import { tableField } from './table-field.js';
import { tableKind } from './table-kind.js';
import { tableReading } from './table-reading.js';
import { tableSure } from './table-sure.js';
import { traineeReport } from './trainee-report.js';
import { training } from './training.js';
import { trial } from './trial.js';
import { unit } from './unit.js';
import { verdict } from './verdict.js';
import { versions } from './versions.js';
import { whatIf } from './what-if.js';
import { who } from './who.js';
import { whyNot } from './why-not.js';
import { words } from './words.js';
import { worked } from './worked.js';
import { yarnPath } from './yarn-path.js';

/** The English catalogue, complete by definition: area → key → message in ICU syntax. */
export const ENGLISH = {
  change,
  level,
  onset,
  part,
  'part-result': partResult,
  'trial-result': trialResult,
  scope,
  shell,
  stop,
  page,
  fault,
  home,
  chance,
  reasoning,
  effect,
  quality,
  bench,
  answer,
  'case-file': caseFile,
  standing,
  who,
  unit,
  cause,
  limited,
  setup,
  option,
  fibre,
  'end-use': endUse,
  family,
  margin,
  property,
  'setup-field': setupField,
  assumed,
  changing,
  number,
  quantity,
  record,
  'case-state': caseState,
  'how-known': howKnown,
  verdict,
  convert,
  'what-if': whatIf,
  'open-file': openFile,
  trial,
  kept,
  'but-for': butFor,
  counts,
  'count-export': countExport,
  'table-kind': tableKind,
  'table-sure': tableSure,
  'table-field': tableField,
  'count-sample': countSample,
  'count-question': countQuestion,
  'count-finding': countFinding,
  'count-picture': countPicture,
  'column-role': columnRole,
  'curve-setting': curveSetting,
  plan,
  'plan-margin': planMargin,
  compare,
  drawing,
  'drawing-show': drawingShow,
  card,
  sensitivity,
  'complaint-state': complaintState,
  complaint,
  form,
  overview,
  'quality-desk': qualityDesk,
  'drawing-measure': drawingMeasure,
  'drawing-station': drawingStation,
  'drawing-word': drawingWord,
  'drawing-text': drawingText,
  training,
  lesson,
  practice,
  marking,
  replay,
  course,
  'own-case': ownCase,
  worked,
  mill,
  parts,
  'yarn-path': yarnPath,
  learning,
  versions,
  'case-sheet': caseSheet,
  'case-again': caseAgain,
  away,
  refused,
  'kept-kind': keptKind,
  input,
  condition,
  'compared-setting': comparedSetting,
  'computed-fact': computedFact,
  knowledge,
  entry,
  strength,
  weight,
  'knowledge-kind': knowledgeKind,
  'knowledge-one': knowledgeOne,
  'knowledge-about': knowledgeAbout,
  'knowledge-count': knowledgeCount,
  'sign-group': signGroup,
  'action-group': actionGroup,
  'check-group': checkGroup,
  situation,
  measured,
  'action-cost': actionCost,
  access,
  accounts,
  audit,
  'audit-way': auditWay,
  role,
  'role-about': roleAbout,
  right,
  'token-right': tokenRight,
  'count-words': countWords,
  month,
  'count-answer': countAnswer,
  'count-quick': countQuick,
  'count-figure': countFigure,
  'figure-standing': figureStanding,
  'count-assumed': countAssumed,
  'count-allowed': countAllowed,
  'table-reading': tableReading,
  judged,
  'why-not': whyNot,
  'replay-measured': replayMeasured,
  'replay-step': replayStep,
  'trainee-report': traineeReport,
  'nozzle-material': nozzleMaterial,
  objective,
  'plan-limit': planLimit,
  'plan-limit-meaning': planLimitMeaning,
  'plan-step': planStep,
  'plan-why': planWhy,
  'plan-words': planWords,
  'side-by-side': sideBySide,
  words,
} as const;
