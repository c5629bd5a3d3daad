import type { ZxcvbnFactory } from '@zxcvbn-ts/core';

/** Fewer guesses than this, by the order in which guessers try, and a password is refused. Judgement. */
const LEAST_GUESSES = 1e8;
/** What is looked at of a longer one: what follows can only make it harder to guess, and looking takes time. */
const MOST_LOOKED_AT = 96;

let estimator: Promise<ZxcvbnFactory> | undefined;

/** Loaded when the first password is set: the list is large, and most starts of the server never need it. */
async function load(): Promise<ZxcvbnFactory> {
  const [{ ZxcvbnFactory }, { adjacencyGraphs, dictionary }] = await Promise.all([
    import('@zxcvbn-ts/core'),
    import('@zxcvbn-ts/language-common'),
  ]);
  return new ZxcvbnFactory({
    dictionary: { passwords: dictionary['passwords-common'] },
    graphs: adjacencyGraphs,
  });
}

/**
 * Whether a password would soon be guessed: it stands among some fifty thousand that were found most often in lists that
 * leaked, or is made of such by figures, dates, signs for letters, repeats and rows of keys.
 *
 * @param own words that belong to the person, such as the name
 */
export async function isSoonGuessed(password: string, own: readonly string[]): Promise<boolean> {
  estimator ??= load();
  const { guesses } = (await estimator).check(password.slice(0, MOST_LOOKED_AT), [...own]);
  return guesses < LEAST_GUESSES;
}
