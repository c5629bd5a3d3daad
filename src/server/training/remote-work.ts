import type { CaseProblem } from '../../rules/case/types.js';
import { TrainingError, type TrainingQuestion, type TrainingWork } from '../../rules/training/index.js';

/** What a thread answers to a question of the training room: the result, or why it was refused. */
export type TrainingReply =
  | { readonly value: unknown }
  | { readonly refused: { readonly message: string; readonly problems: readonly CaseProblem[] } };

/** The training room's work behind a way of asking another thread. Refusals come back as the TrainingError they were. */
export function remoteWork(ask: (question: TrainingQuestion) => Promise<TrainingReply>): TrainingWork {
  const put =
    <K extends keyof TrainingWork>(work: K) =>
    async (...given: Parameters<TrainingWork[K]>): Promise<Awaited<ReturnType<TrainingWork[K]>>> => {
      const reply = await ask({ work, given });
      if ('refused' in reply) throw new TrainingError(reply.refused.message, reply.refused.problems);
      return reply.value as Awaited<ReturnType<TrainingWork[K]>>;
    };
  return {
    deal: put('deal'),
    openOwn: put('openOwn'),
    play: put('play'),
    mark: put('mark'),
    known: put('known'),
    replay: put('replay'),
    whyNot: put('whyNot'),
    checkKey: put('checkKey'),
    position: put('position'),
    tellApart: put('tellApart'),
  };
}

/** Answers a question on the thread that works. */
export async function answerTraining(work: TrainingWork, question: TrainingQuestion): Promise<TrainingReply> {
  try {
    const method = work[question.work] as (...given: readonly unknown[]) => Promise<unknown>;
    return { value: await method(...question.given) };
  } catch (error) {
    if (!(error instanceof TrainingError)) throw error;
    return { refused: { message: error.message, problems: error.problems } };
  }
}
