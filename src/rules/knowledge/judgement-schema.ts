import { z } from 'zod';

const judgement = z.strictObject({ value: z.number(), note: z.string().min(1) });
const above = (least: number) =>
  judgement.refine((j) => j.value > least, { message: `value must be above ${least}` });
const share = judgement.refine((j) => j.value > 0 && j.value < 1, {
  message: 'value must lie between 0 and 1',
});
const wholeNumber = judgement.refine((j) => Number.isInteger(j.value) && j.value >= 0 && j.value <= 5000, {
  message: 'value must be a whole number from 0 to 5000',
});
const atLeastZero = judgement.refine((j) => j.value >= 0, { message: 'value must not be negative' });

/** `judgements.yaml`: the numbers of the reasoning that no measurement gives. */
export const judgementsSchema = z.strictObject({
  'before-trouble': share,
  'model-credibility': share,
  'marked-share': share,
  'unlisted-share': share,
  'unrelated-change': share,
  'no-change-made': share,
  'part-cured': above(1),
  'part-moves': above(1),
  'part-no-effect': share,
  'fails-anyway': share,
  'eases-anyway': share,
  'measurement-most': above(1),
  'trial-positions': above(0),
  'section-positions': above(0),
  'frame-positions': above(0),
  'cost-none': atLeastZero,
  'cost-low': atLeastZero,
  'cost-medium': atLeastZero,
  'cost-high': atLeastZero,
  'stop-position': atLeastZero,
  'stop-section': atLeastZero,
  'stop-frame': atLeastZero,
  'proof-minutes': atLeastZero,
  'side-effect-minute': atLeastZero,
  'search-hand-over': above(0),
  'replay-log-score': atLeastZero,
  'replay-first-three': atLeastZero,
  'replay-newest': wholeNumber,
  'replay-random': wholeNumber,
});

/** Judgements by name, as plain numbers. */
export type Judgements = Readonly<Record<keyof z.infer<typeof judgementsSchema>, number>>;

/** The numbers alone. */
export function judgementValues(read: z.infer<typeof judgementsSchema>): Judgements {
  return Object.fromEntries(
    Object.entries(read).map(([name, judgement]) => [name, judgement.value]),
  ) as Judgements;
}
