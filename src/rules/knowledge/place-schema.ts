/** Shape of `places.yaml`: places of the position drawing, and which causes act there. */
import { z } from 'zod';
import { idSchema } from './schema.js';

/** Places the drawing can mark; the drawing's views say where each lies. */
export const PLACES = [
  'groove',
  'fibre-ring',
  'peel-point',
  'yarn-arm',
  'nozzle-face',
  'nozzle-lip',
  'nozzle-seat',
  'nozzle-bore',
  'tube-bend',
  'insert',
  'take-off',
  'rotor-wall',
  'rotor-shaft',
  'cover-seal',
  'sliver',
  'feed',
  'opening-roller',
  'trash-slot',
  'fibre-channel',
  'take-off-rollers',
  'winding',
  'fabric',
  'room',
] as const;
export type Place = (typeof PLACES)[number];

export const placesSchema = z.strictObject(
  Object.fromEntries(
    PLACES.map((place) => [
      place,
      z.strictObject({ label: z.string().trim().min(1), causes: z.array(idSchema).optional() }),
    ]),
  ) as Record<Place, z.ZodObject<{ label: z.ZodString; causes: z.ZodOptional<z.ZodArray<typeof idSchema>> }>>,
);
export type Places = z.infer<typeof placesSchema>;
