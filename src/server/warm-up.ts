/** What is warmed up with, and when. */
export interface WarmUp<Case> {
  readonly cases: readonly Case[];
  work(one: Case): Promise<unknown>;
  /** Whether nobody waits for this thread. */
  idle(): boolean;
  /** Milliseconds before the first case, and between two. */
  readonly after?: number;
  readonly pause?: number;
}

/** A server that is stopped or asked at once is not kept busy with this. */
const AFTER_MS = 1000;
/** Leaves room for questions that come meanwhile. */
const PAUSE_MS = 5;

/**
 * Works cases out while nobody waits, one after the other. Code that has run a few dozen times is compiled for speed and
 * answers in a third of the time: without this, the first people of a shift would be the ones to wait for that.
 *
 * @returns stops it
 */
export function warmUp<Case>({
  cases,
  work,
  idle,
  after = AFTER_MS,
  pause = PAUSE_MS,
}: WarmUp<Case>): () => void {
  const left = [...cases];
  let timer: NodeJS.Timeout | undefined;
  const next = async (): Promise<void> => {
    if (idle()) {
      const one = left.shift();
      if (one === undefined) return;
      // A case that cannot be worked out is no reason to stop: whoever asks for it is told.
      await work(one).catch(() => {});
    }
    if (left.length > 0) timer = setTimeout(next, pause);
  };
  if (left.length > 0) timer = setTimeout(next, after);
  return () => {
    left.length = 0;
    clearTimeout(timer);
  };
}
