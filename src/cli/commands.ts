import type { Command } from './command.js';
import { ACCOUNT_COMMANDS } from './commands/account.js';
import { backup } from './commands/backup.js';
import { compare } from './commands/compare.js';
import { convert } from './commands/convert.js';
import { COUNTS_COMMANDS } from './commands/counts.js';
import { courseExport, courseList } from './commands/course.js';
import { diagnose } from './commands/diagnose.js';
import { draw } from './commands/draw.js';
import { explain } from './commands/explain.js';
import { helpCommand } from './commands/help.js';
import { knowledgeCheck } from './commands/knowledge-check.js';
import { knowledgeDiff } from './commands/knowledge-diff.js';
import { knowledgeList } from './commands/knowledge-list.js';
import { knowledgeNew } from './commands/knowledge-new.js';
import { knowledgeReplay } from './commands/knowledge-replay.js';
import { knowledgeSchema } from './commands/knowledge-schema.js';
import { knowledgeShow } from './commands/knowledge-show.js';
import { knowledgeSigns } from './commands/knowledge-signs.js';
import { knowledgeTest } from './commands/knowledge-test.js';
import { move } from './commands/move.js';
import { plan } from './commands/plan.js';
import { practiceCheck, practiceKeep } from './commands/practice-check.js';
import { practiceDeal } from './commands/practice-deal.js';
import { practiceMark } from './commands/practice-mark.js';
import { practiceReplay } from './commands/practice-replay.js';
import { restore } from './commands/restore.js';
import { serve } from './commands/serve.js';
import { setup } from './commands/setup.js';
import { timeZone } from './commands/time-zone.js';
import { tokenAdd, tokenList, tokenRevoke } from './commands/token.js';
import { TRIAL_COMMANDS } from './commands/trial.js';

const WORKING: readonly Command[] = [
  diagnose,
  setup,
  explain,
  plan,
  compare,
  draw,
  convert,
  ...COUNTS_COMMANDS,
  ...TRIAL_COMMANDS,
  knowledgeCheck,
  knowledgeList,
  knowledgeShow,
  knowledgeTest,
  knowledgeNew,
  knowledgeSchema,
  knowledgeDiff,
  knowledgeReplay,
  knowledgeSigns,
  practiceDeal,
  practiceMark,
  practiceReplay,
  practiceCheck,
  practiceKeep,
  courseList,
  courseExport,
  serve,
  backup,
  restore,
  move,
  ...ACCOUNT_COMMANDS,
  tokenAdd,
  tokenList,
  tokenRevoke,
  timeZone,
];

/** All commands, in the order in which help lists them. */
export const COMMANDS: readonly Command[] = [...WORKING, helpCommand(WORKING)];
