import { parentPort, workerData } from 'node:worker_threads';
import { inLanguage } from '../language/scope.js';
import { createDiagnostician } from '../rules/diagnosis/diagnose.js';
import { loadTraining, openTrainingRoom, type TrainingWork, workIn } from '../rules/training/index.js';
import { openBench } from './bench-engine.js';
import type { EngineQuestion, EngineReply, EngineResult, EngineStart } from './engine-pool.js';
import { answerTraining } from './training/remote-work.js';
import { warmUp } from './warm-up.js';
import { openWorkshop } from './workshop.js';
import { yieldToOthers } from './yield-to-others.js';

/** A thread of the engine pool: made ready for one version of the knowledge, it answers one question after the other. */
const port = parentPort;
if (port === null) throw new Error('this script runs as a worker thread');
const { knowledge, knowledgeRoot, books, example, warmUpCases, niceness, takes } = workerData as EngineStart;
yieldToOthers(niceness);
const diagnostician = createDiagnostician(knowledge);
const bench = openBench(diagnostician);
const workshop = openWorkshop(knowledge, knowledgeRoot, books?.plans);
const say = (reply: EngineReply) => port.postMessage(reply);

let room: TrainingWork | undefined;
/** Opened at the first question: most servers never train anybody. */
function training(): TrainingWork {
  room ??= workIn(
    openTrainingRoom(
      diagnostician,
      books?.training ?? loadTraining(knowledgeRoot, knowledge, diagnostician.vocabulary),
    ),
  );
  return room;
}

function answer(question: EngineQuestion): Promise<EngineResult> {
  switch (question.ask) {
    case 'answer':
      return bench.answer(question.input);
    case 'next':
      return bench.next(question.input, question.later);
    case 'whole':
      return bench.whole(question.input, question.later);
    case 'cause':
      return bench.cause(question.input, question.cause);
    case 'paper':
      return bench.onPaper(question.input, question.trial);
    case 'sensitivities':
      return workshop.sensitivities(question.input, question.also);
    case 'plan':
      return workshop.plan(question.input, question.request);
    case 'table':
      return workshop.judgeTable(question.question);
    case 'training':
      return answerTraining(training(), question.question);
    case 'lint':
      return workshop.lint();
    default:
      return diagnostician[question.ask](question.input);
  }
}

let underWay = 0;
port.on('message', async (question: EngineQuestion) => {
  const { id } = question;
  underWay++;
  try {
    say({ id, result: await inLanguage(question.language, () => answer(question)) });
  } catch (error) {
    say({ id, fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  } finally {
    underWay--;
  }
});
if (example !== undefined) await diagnostician.diagnose(example);
say({ ready: true });
if (takes.includes('quick'))
  warmUp({ cases: warmUpCases, work: (one) => bench.whole(one, []), idle: () => underWay === 0 });
