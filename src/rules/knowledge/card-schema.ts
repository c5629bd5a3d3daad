/** Shape of `card.yaml`: what the setup card says about each setting. */
import { z } from 'zod';

const text = z.string().trim().min(1);

/** Settings on the card, in its order. */
export const CARD_PATHS = [
  'count',
  'twist',
  'rotor.diameter',
  'rotor.speed',
  'rotor.groove',
  'nozzle.surface',
  'nozzle.material',
  'nozzle.radius',
  'nozzle.protrusion',
  'tube.bend',
  'tube.insert',
  'opening-roller.speed',
  'sliver.count',
  'winding.tension-draft',
  'room.temperature',
  'room.humidity',
] as const;
export type CardPath = (typeof CARD_PATHS)[number];

const entrySchema = z.strictObject({ why: text, tolerance: text, watch: text });

export const cardSchema = z.strictObject(
  Object.fromEntries(CARD_PATHS.map((path) => [path, entrySchema])) as Record<CardPath, typeof entrySchema>,
);
export type CardBook = z.infer<typeof cardSchema>;
