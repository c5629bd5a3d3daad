import type { CaseInput } from '../case/types.js';
import type { HiddenTruth } from './hidden-truth.js';
import type { PracticeNumber } from './practice-code.js';

/** A frame dealt for practice. The trainee is shown `input`; `truth` stays hidden until the case is closed. */
export interface PracticeCase {
  /** What the case is called: its number (`2-7`), or the title of a trainer's own case. */
  readonly code: string;
  /** Absent for a trainer's own case. */
  readonly number?: PracticeNumber;
  readonly title: string;
  readonly input: CaseInput;
  readonly truth: HiddenTruth;
  /** Answers that the trainer has fixed, check → outcome. */
  readonly fixedAnswers?: Readonly<Record<string, string>>;
  /** The trainer's words for the discussion afterwards. */
  readonly notes?: string;
}
