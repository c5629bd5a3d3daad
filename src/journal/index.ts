/** The public face of the journal: frames, setups, cases, complaints, machine data, accounts and what they teach. */
export {
  type AccountChange,
  type AccountRecord,
  addAccount,
  changeAccount,
  findAccount,
  hasAccounts,
  hasAdministrator,
  listAccounts,
  type NewAccount,
  signInNameSchema,
} from './accounts/accounts.js';
export { FLOW_MINUTES, type SignInFlow, startFlow, takeFlow } from './accounts/flows.js';
export {
  changePassword,
  findForSignIn,
  findLink,
  LINK_HOURS,
  makeFirstLink,
  makeLink,
  type SignInLink,
  useFirstLink,
  useLink,
} from './accounts/links.js';
export { accountForOutsider, type Outsider } from './accounts/outside.js';
export {
  RIGHTS,
  RIGHTS_OF_ROLE,
  type Right,
  ROLES,
  type Role,
  rightsOf,
  TOKEN_RIGHTS,
  type TokenRight,
} from './accounts/roles.js';
export {
  endSessions,
  findSession,
  listSessions,
  type SessionRecord,
  type SessionTimes,
  startSession,
} from './accounts/sessions.js';
export { forgiveTry, takeTry } from './accounts/tries.js';
export { type Actor, actAs, currentActor, type WayIn } from './acting.js';
export { type NewAudit, OUTCOMES, type Outcome } from './audit/add-audit.js';
export { noteAudit } from './audit/note.js';
export {
  type AuditFilter,
  type AuditLine,
  type AuditPage,
  auditFilterSchema,
  auditKinds,
  searchAudit,
} from './audit/search-audit.js';
export type { CaseRecord, KeptPlace } from './cases/case-rows.js';
export type { KeptDiagnosis, Ranked } from './cases/ranked.js';
export {
  type CaseDetail,
  type DiagnosisSummary,
  type FullDiagnosis,
  findCase,
  findCaseRecords,
  findDiagnosis,
} from './cases/read-case.js';
export { type CaseStanding, type Closure, type CountedStep, nextSteps } from './cases/replay.js';
export {
  ACTION_RESULTS,
  CASE_STATES,
  type CaseState,
  type CaseStep,
  type CaseStepName,
  CONFIRMATIONS,
  type Confirmation,
  costSchema,
  type StepInput,
  stepSchema,
  TRIAL_VERDICTS,
} from './cases/steps.js';
export {
  correctStep,
  type DiagnosisToKeep,
  type NewCase,
  newCaseSchema,
  openCase,
  recordDiagnosis,
  recordStep,
  type Seen,
} from './cases/write-case.js';
export {
  readSetting,
  type Setting,
  type SettingKey,
  writeSetting,
} from './clients/settings.js';
export {
  addToken,
  findClient,
  listTokens,
  revokeToken,
  type TokenRecord,
  tokenRightsSchema,
} from './clients/tokens.js';
export { findLikelyLinks, type LikelyLinks } from './complaints/complaint-links.js';
export type { ComplaintRecord } from './complaints/complaint-rows.js';
export {
  addPhoto,
  findPhoto,
  MOST_PHOTO_BYTES,
  MOST_PHOTOS,
  type PhotoRecord,
  type ServedPhoto,
  withdrawPhoto,
} from './complaints/photos.js';
export { type PictureType, sniffPicture } from './complaints/picture-type.js';
export { type ComplaintDetail, findComplaint } from './complaints/read-complaint.js';
export type { ComplaintStanding } from './complaints/replay.js';
export {
  COMPLAINT_STATES,
  type ComplaintState,
  type ComplaintStepInput,
  complaintSchema,
  complaintStepSchema,
  type NewComplaint,
} from './complaints/steps.js';
export { logComplaint, recordComplaintStep } from './complaints/write-complaint.js';
export { buildDemoMill, type DemoOptions, type DemoReport } from './demo/build-demo-mill.js';
export type { CaseFile, DemoCause, DemoEngine, DemoFrame } from './demo/engine.js';
export type { Connections } from './engines/postgresql.js';
export type { Entry } from './entries.js';
export {
  type InputProblem,
  isPlaceFault,
  JournalError,
  type JournalFault,
  JournalInputError,
  StaleError,
  type StepSince,
  wordsOf,
} from './errors.js';
export { type By, bySchema, schemaProblems } from './input.js';
export { casesOfReplay, type KeptReplay, keepReplay, listReplays } from './knowledge/kept-replays.js';
export {
  casesThatGotWorse,
  replayVersions,
  type Tolerance,
  type VersionReplay,
  whyHeld,
} from './knowledge/replay-versions.js';
export { countTriedCases, type SampleSize, sampleClosedCases } from './knowledge/sample.js';
export {
  findKnowledgeVersion,
  type HowUsed,
  holdKnowledgeVersion,
  type KnowledgeVersion,
  knowledgeInUse,
  listKnowledgeVersions,
  seeKnowledgeVersion,
  useKnowledgeVersion,
} from './knowledge/versions.js';
export {
  type ExpertCause,
  type LearnedRate,
  type LearningOptions,
  learnBaseRates,
} from './learning/base-rates.js';
export {
  type RankCase,
  type Replay,
  type ReplayedCase,
  replayClosedCases,
} from './learning/replay-closed-cases.js';
export type { BatchReceipt } from './machine/batches.js';
export { countBreaksByHour, countBreaksByPosition } from './machine/break-counts.js';
export { type BreakEvent, breakEventsSchema, MOST_EVENTS, recordBreaks } from './machine/break-events.js';
export { countFrameDays, type FrameDay } from './machine/frame-days.js';
export { countByFrame, type FrameRate } from './machine/frame-rates.js';
export type { Period } from './machine/period.js';
export { type RunInput, recordRuns, runSchema } from './machine/runs.js';
export { isEmptyJournal, type JournalMarks, readMarks } from './meta.js';
export {
  addFrame,
  changeFrame,
  type FrameInput,
  type FrameRecord,
  findFrame,
  frameSchema,
  historyOfFrame,
  listFrames,
} from './mill/frames.js';
export { type LateChange, type WhatChanged, whatChangedLately } from './mill/lately.js';
export {
  addLot,
  changeLot,
  findLot,
  type LotInput,
  type LotRecord,
  listLots,
  lotSchema,
} from './mill/lots.js';
export { compareSetups, type SetupDifference } from './mill/setup-differences.js';
export {
  correctSetup,
  LIFE_PARTS,
  type LifePart,
  listSetups,
  recordSetup,
  type SetupInput,
  type SetupRecord,
  setupAt,
  setupReports,
  setupReportsOf,
  setupSchema,
  setupsAt,
} from './mill/setups.js';
export { findSpinningWindows, type SpinningWindow } from './mill/spinning-windows.js';
export {
  addYarn,
  changeYarn,
  findYarn,
  listYarns,
  type YarnInput,
  type YarnRecord,
  yarnSchema,
} from './mill/yarns.js';
export { JOURNAL_FILE, type OpenOptions, openJournal } from './open-journal.js';
export { findPartHours, type PartHours } from './parts/part-hours.js';
export { type ExpectedLife, listReplacements, type Replacement } from './parts/replacements.js';
export { type Calibration, measureCalibration, type ReliabilityBin } from './quality/calibration.js';
export { type Durations, measureDurations, type Spread } from './quality/durations.js';
export {
  type CaseFilter,
  type ComplaintFilter,
  caseFilterSchema,
  complaintFilterSchema,
} from './quality/filters.js';
export { type FrameHistory, findFrameHistory } from './quality/frame-history.js';
export { type HitRate, measureHits, type WhichRanking } from './quality/hits.js';
export { findRepeatOffenders, type Offender, type OffenderKind } from './quality/offenders.js';
export { type Page, type PageInput, pageSchema } from './quality/pages.js';
export {
  type Pareto,
  type ParetoMeasure,
  type ParetoRow,
  rankRootCauses,
  sumCaseCosts,
} from './quality/pareto.js';
export {
  countCases,
  countComplaints,
  listCustomers,
  searchCases,
  searchComplaints,
} from './quality/search.js';
export type { Engine, Journal } from './store.js';
export { inOneTransaction } from './store.js';
export {
  type AttemptInput,
  findAttempt,
  type KeptAttempt,
  keepAttempt,
  listAttempts,
} from './training/attempts.js';
export {
  addCourse,
  COURSE_STATES,
  type CourseInput,
  type CourseItemRecord,
  type CourseRecord,
  type CourseState,
  changeCourse,
  courseSchema,
  findCourse,
  historyOfCourse,
  joinCourse,
  listCourses,
  listMembers,
  type MemberRecord,
  newItemId,
  setCourseState,
} from './training/courses.js';
export {
  addPracticeCase,
  changePracticeCase,
  findPracticeCase,
  listPracticeCases,
  type PracticeCaseInput,
  type PracticeCaseRecord,
  practiceCaseSchema,
} from './training/practice-cases.js';
export { findStanding, journalConnections, pingJournal } from './upkeep/alive.js';
export { type Backup, backUpJournal, restoreJournal } from './upkeep/backup.js';
export { checkJournal, forgetOldPosts, type JournalCheck } from './upkeep/check-journal.js';
export { countJournal, exportJournal, type Moved } from './upkeep/export.js';
export { importJournal } from './upkeep/import.js';
export { moveJournal } from './upkeep/move.js';
export {
  dayIn,
  endOfDay,
  knowsTimeZone,
  monthsEarlier,
  readWallClock,
  serverTimeZone,
  startOfDay,
  startOfNextDay,
  timeZones,
  type WallTime,
  wallClock,
} from './zone/mill-time.js';
export { ensureMillZone, readMillZone, setMillZone } from './zone/mill-zone.js';
