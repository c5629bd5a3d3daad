/**
 * The rows as they lie in the database, the same on both engines: ids and times as text, flags as 0 or 1, payloads as
 * JSON text (large ones packed to bytes). Only the journal sees them; everything outside gets records.
 */

interface MetaTable {
  key: string;
  value: string;
}

interface CountersTable {
  name: string;
  value: number;
}

/** Posts already carried out, by the client's key. */
interface PostsTable {
  key: string;
  at: string;
  fingerprint: string;
  result: string;
}

/** The append-only history of frames, yarns, lots, cases and complaints; a subject's version counts its entries. */
interface EntriesTable {
  kind: string;
  subject: string;
  version: number;
  /** When it happened. */
  at: string;
  /** When it was written down. */
  recorded: string;
  who: string;
  step: string;
  data: string;
  /** The version this entry corrects. */
  supersedes: number | null;
  /** How the writer came in, with which account or token, from which address; null in entries from before. */
  via: string | null;
  account: string | null;
  address: string | null;
}

interface FramesTable {
  id: string;
  version: number;
  name: string;
  place: string;
  positions: number;
  note: string;
  retired: number;
}

interface SectionsTable {
  frame: string;
  name: string;
  first: number;
  last: number;
}

interface YarnsTable {
  id: string;
  version: number;
  name: string;
  end_use: string | null;
  count_tex: number | null;
  twist_per_metre: number | null;
  tenacity: number | null;
  hairiness: number | null;
  cvm: number | null;
  breaks_norm: number | null;
  note: string;
  retired: number;
}

interface LotsTable {
  id: string;
  version: number;
  name: string;
  yarn: string | null;
  material: string;
  received_at: string | null;
  note: string;
  retired: number;
}

interface SetupsTable {
  id: string;
  frame: string;
  at: string;
  recorded: string;
  who: string;
  yarn: string | null;
  lot: string | null;
  given: string;
  /** Changes named by whoever made the entry, beyond what the setups show. */
  changes: string;
  renewed: string;
  note: string;
  report_before: Uint8Array | null;
  report_after: Uint8Array | null;
  supersedes: string | null;
  /** The entry that corrects or withdraws this one. */
  superseded_by: string | null;
  withdrawn: number;
}

interface FittingsTable {
  frame: string;
  part: string;
  position: number;
  at: string;
  setup: string;
  hours_at_fitting: number;
}

interface CasesTable {
  id: string;
  number: number;
  version: number;
  state: string;
  title: string;
  opened_at: string;
  changed_at: string;
  closed_at: string | null;
  frame: string | null;
  position: number | null;
  section: string | null;
  lot: string | null;
  yarn: string | null;
  assignee: string;
  outcome: string | null;
  cause: string | null;
  how: string | null;
  symptom_gone: number | null;
  found_at: string | null;
  fixed_at: string | null;
  find_minutes: number | null;
  fix_minutes: number | null;
  minutes: number;
  rotor_hours: number;
  waste_kg: number;
  nozzle_hours: number | null;
  tube_hours: number | null;
  rotor_part_hours: number | null;
  /** The ranking at opening: its first cause, that cause's probability, the confirmed cause's place and probability. */
  first_cause: string | null;
  first_probability: number | null;
  first_place: number | null;
  first_given: number | null;
  /** The same for the last ranking before closing. */
  last_cause: string | null;
  last_probability: number | null;
  last_place: number | null;
  last_given: number | null;
  /** The whole thousandths of the two first causes' probabilities: 624 for 0.6249. */
  first_mille: number | null;
  last_mille: number | null;
  /** Whole steps of nozzle age, see AGE_STEP. */
  nozzle_age: number | null;
}

interface CaseTextsTable {
  /** That of the case: texts lie in the order of lists. */
  opened_at: string;
  case_id: string;
  /** Lower case. */
  search: string;
}

interface CaseCausesTable {
  case_id: string;
  cause: string;
  main: number;
}

interface CaseChecksTable {
  case_id: string;
  check_id: string;
}

interface DiagnosesTable {
  case_id: string;
  number: number;
  at: string;
  who: string;
  knowledge_version: string;
  input: string;
  /** `[[cause, probability], …]`, all causes, by falling probability. */
  ranked: string;
  body: Uint8Array;
}

interface ComplaintsTable {
  id: string;
  number: number;
  version: number;
  state: string;
  customer: string;
  fabric_fault: string;
  claimed_kg: number | null;
  lot: string | null;
  yarn: string | null;
  received_at: string;
  changed_at: string;
  closed_at: string | null;
  spun_from: string | null;
  spun_until: string | null;
  cause: string | null;
  cause_case: string | null;
  root_cause: string;
  containment: string;
  corrective: string;
  preventive: string;
  verification: string;
  verified_at: string | null;
  fixed: string | null;
  search: string;
}

interface ComplaintFramesTable {
  complaint: string;
  frame: string;
}

interface ComplaintCasesTable {
  complaint: string;
  case_id: string;
}

interface PhotosTable {
  id: string;
  complaint: string;
  at: string;
  who: string;
  type: string;
  size: number;
  digest: string;
  caption: string;
  withdrawn: number;
  bytes: Uint8Array;
}

interface BatchesTable {
  id: string;
  kind: string;
  at: string;
  who: string;
  given: number;
  added: number;
  fingerprint: string;
}

interface BreakEventsTable {
  frame: string;
  at: string;
  position: number;
}

interface BreakDaysTable {
  frame: string;
  day: string;
  position: number;
  breaks: number;
}

interface BreakTotalsTable {
  frame: string;
  /** UTC day. */
  day: string;
  breaks: number;
}

interface BreakQuartersTable {
  frame: string;
  /** Quarters of an hour since 1970, UTC. */
  quarter: number;
  breaks: number;
}

interface RunsTable {
  frame: string;
  from_at: string;
  until_at: string;
  rotor_hours: number;
  frame_hours: number;
  breaks: number | null;
  batch: string;
}

interface RunningDaysTable {
  frame: string;
  day: string;
  rotor_hours: number;
  frame_hours: number;
  counted_breaks: number;
  counted_rotor_hours: number;
}

interface KnowledgeVersionsTable {
  id: string;
  version: number;
  reasoning: string;
  state: string;
  seen_at: string;
  use_number: number | null;
  used_at: string | null;
  how: string | null;
  who: string;
  note: string;
  /** The files by path, packed; null once they are no longer kept. */
  texts: Uint8Array | null;
}

interface KnowledgeReplaysTable {
  number: number;
  version: string;
  against: string;
  at: string;
  closed: number;
  newest: number;
  random: number;
  seed: number;
  cases: number;
  unreadable: number;
  first_before: number;
  first_after: number;
  three_before: number;
  three_after: number;
  log_before: number;
  log_after: number;
  brier_before: number;
  brier_after: number;
  gain_lower: number | null;
  gain_upper: number | null;
  /** JSON list of sentences. */
  held_because: string;
  /** The cases one by one, packed. */
  details: Uint8Array;
}

interface TokensTable {
  id: string;
  name: string;
  /** SHA-256 of the secret; the secret itself is kept nowhere. */
  digest: string;
  made_at: string;
  used_at: string | null;
  revoked_at: string | null;
  /** Words of what it may do, with spaces between. */
  rights: string;
  made_by: string | null;
}

interface SettingsTable {
  key: string;
  value: string;
  changed_at: string;
  who: string;
}

interface AccountsTable {
  id: string;
  /** What is typed at the sign-in, in small letters. */
  name: string;
  shown: string;
  /** The shown name in small letters, so that nobody takes another's. */
  shown_key: string;
  /** With spaces between. */
  roles: string;
  state: string;
  /** An argon2id hash with its parameters; null: none set yet. */
  password: string | null;
  password_at: string | null;
  /** Issuer and subject of an outside sign-in. */
  external: string | null;
  signed_in_at: string | null;
  made_at: string;
  made_by: string;
  changed_at: string;
  changed_by: string;
}

interface SessionsTable {
  /** SHA-256 of the secret in the cookie. */
  digest: string;
  id: string;
  account: string;
  made_at: string;
  seen_at: string;
  ends_at: string;
  address: string;
  agent: string;
}

/** One-time links with which a password is set; without an account: the one that makes the first administrator. */
interface SignInLinksTable {
  digest: string;
  account: string | null;
  made_at: string;
  made_by: string;
  ends_at: string;
  used_at: string | null;
}

/** Failed sign-ins by account name and by address, as digests. */
interface SignInTriesTable {
  key: string;
  failures: number;
  last_at: string;
  until_at: string | null;
}

/** Sign-ins under way at an outside provider. */
interface SignInFlowsTable {
  digest: string;
  state: string;
  nonce: string;
  verifier: string;
  next: string;
  ends_at: string;
}

/** What happened beside the history in `entries`: sign-ins, accounts, tokens, settings, exports, refusals. */
interface AuditTable {
  id: string;
  at: string;
  who: string;
  account: string | null;
  via: string;
  address: string;
  kind: string;
  subject: string;
  action: string;
  outcome: string;
  data: string;
}

interface CoursesTable {
  id: string;
  number: number;
  version: number;
  title: string;
  class_group: string;
  state: string;
  note: string;
  /** JSON: the parts in order. */
  items: string;
  made_at: string;
  changed_at: string;
}

interface PracticeCasesTable {
  id: string;
  number: number;
  version: number;
  title: string;
  origin: string;
  case_text: string;
  from_case: string | null;
  agrees: number;
  knowledge: string;
  retired: number;
  changed_at: string;
}

interface CourseMembersTable {
  course: string;
  trainee: string;
  joined_at: string;
}

interface AttemptsTable {
  id: string;
  course: string;
  number: number;
  item: string;
  kind: string;
  trainee: string;
  at: string;
  knowledge: string;
  /** JSON: what the course counts. */
  result: string;
  /** Packed JSON: the case as dealt, the moves, the marking. */
  sheet: Uint8Array | null;
}

export interface Tables {
  meta: MetaTable;
  counters: CountersTable;
  posts: PostsTable;
  entries: EntriesTable;
  frames: FramesTable;
  sections: SectionsTable;
  yarns: YarnsTable;
  lots: LotsTable;
  setups: SetupsTable;
  fittings: FittingsTable;
  cases: CasesTable;
  case_texts: CaseTextsTable;
  case_causes: CaseCausesTable;
  case_checks: CaseChecksTable;
  diagnoses: DiagnosesTable;
  complaints: ComplaintsTable;
  complaint_frames: ComplaintFramesTable;
  complaint_cases: ComplaintCasesTable;
  photos: PhotosTable;
  batches: BatchesTable;
  break_events: BreakEventsTable;
  break_days: BreakDaysTable;
  break_quarters: BreakQuartersTable;
  break_totals: BreakTotalsTable;
  runs: RunsTable;
  running_days: RunningDaysTable;
  knowledge_versions: KnowledgeVersionsTable;
  knowledge_replays: KnowledgeReplaysTable;
  tokens: TokensTable;
  settings: SettingsTable;
  courses: CoursesTable;
  practice_cases: PracticeCasesTable;
  course_members: CourseMembersTable;
  attempts: AttemptsTable;
  accounts: AccountsTable;
  sessions: SessionsTable;
  sign_in_links: SignInLinksTable;
  sign_in_tries: SignInTriesTable;
  sign_in_flows: SignInFlowsTable;
  audit: AuditTable;
}

/** Tables in an order in which rows can be put in, with their keys. */
export const TABLE_KEYS: { readonly [T in keyof Tables]: readonly (keyof Tables[T] & string)[] } = {
  meta: ['key'],
  counters: ['name'],
  posts: ['key'],
  entries: ['kind', 'subject', 'version'],
  frames: ['id'],
  sections: ['frame', 'first'],
  yarns: ['id'],
  lots: ['id'],
  setups: ['id'],
  fittings: ['frame', 'part', 'position', 'at', 'setup'],
  cases: ['id'],
  case_texts: ['opened_at', 'case_id'],
  case_causes: ['case_id', 'cause'],
  case_checks: ['case_id', 'check_id'],
  diagnoses: ['case_id', 'number'],
  complaints: ['id'],
  complaint_frames: ['complaint', 'frame'],
  complaint_cases: ['complaint', 'case_id'],
  photos: ['id'],
  batches: ['id'],
  break_events: ['frame', 'at', 'position'],
  break_days: ['frame', 'day', 'position'],
  break_quarters: ['frame', 'quarter'],
  break_totals: ['frame', 'day'],
  runs: ['frame', 'from_at'],
  running_days: ['frame', 'day'],
  knowledge_versions: ['id'],
  knowledge_replays: ['number'],
  tokens: ['id'],
  settings: ['key'],
  courses: ['id'],
  practice_cases: ['id'],
  course_members: ['course', 'trainee'],
  attempts: ['id'],
  accounts: ['id'],
  sessions: ['digest'],
  sign_in_links: ['digest'],
  sign_in_tries: ['key'],
  sign_in_flows: ['digest'],
  audit: ['id'],
};

/** Tables whose rows hold for a short time and in one place: exports and moves leave them out. */
export const PASSING_TABLES: readonly (keyof Tables)[] = [
  'sessions',
  'sign_in_links',
  'sign_in_tries',
  'sign_in_flows',
];
