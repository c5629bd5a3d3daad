import type { ENGLISH } from '../en/index.js';
import { access } from './access.js';
import { accounts } from './accounts.js';
import { answer } from './answer.js';
import { assumed } from './assumed.js';
import { away } from './away.js';
import { bench } from './bench.js';
import { butFor } from './but-for.js';
import { change, level, onset, part, partResult, scope, stop, trialResult } from './case.js';
import { caseAgain } from './case-again.js';
import { caseFile } from './case-file.js';
import { caseSheet } from './case-sheet.js';
import { caseState } from './case-state.js';
import { cause } from './cause.js';
import { chance } from './chance.js';
import { changing } from './changing.js';
import { columnRole } from './column-role.js';
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
import { curveSetting } from './curve-setting.js';
import { effect } from './effect.js';
import { endUse } from './end-use.js';
import { entry } from './entry.js';
import { family } from './family.js';
import { fault } from './fault.js';
import { fibre } from './fibre.js';
import { home } from './home.js';
import { howKnown } from './how-known.js';
import { input } from './input.js';
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
import { limited } from './limited.js';
import { margin } from './margin.js';
import { number } from './number.js';
import { openFile } from './open-file.js';
import { option } from './option.js';
import { page } from './page.js';
import { property } from './property.js';
import { quality } from './quality.js';
import { quantity } from './quantity.js';
import { reasoning } from './reasoning.js';
import { record } from './record.js';
import { keptKind, refused } from './refused.js';
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
import { trial } from './trial.js';
import { unit } from './unit.js';
import { verdict } from './verdict.js';
import { whatIf } from './what-if.js';
import { who } from './who.js';
import { words } from './words.js';
import { worked } from './worked.js';

/** German: not yet reviewed by a native spinner. Areas and keys left out are said in English. */
export const GERMAN: {
  readonly [Area in keyof typeof ENGLISH]?: { readonly [Key in keyof (typeof ENGLISH)[Area]]?: string };
} = {
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
  'case-sheet': caseSheet,
  'case-again': caseAgain,
  away,
  refused,
  sensitivity,
  'kept-kind': keptKind,
  input,
  condition,
  'compared-setting': comparedSetting,
  'computed-fact': computedFact,
  knowledge,
  entry,
  worked,
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
  'but-for': butFor,
  'curve-setting': curveSetting,
  access,
  accounts,
  role,
  'role-about': roleAbout,
  right,
  'token-right': tokenRight,
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
  'count-words': countWords,
  month,
  'count-answer': countAnswer,
  'count-quick': countQuick,
  'count-figure': countFigure,
  'figure-standing': figureStanding,
  'count-assumed': countAssumed,
  'count-allowed': countAllowed,
  'table-reading': tableReading,
  'side-by-side': sideBySide,
  words,
};
