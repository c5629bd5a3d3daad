import { say } from '../../../language/say.js';
import type { FormField } from '../../../templates/journal-models.js';
import { NOTHING, type Old, plain, type StepContext } from './case-step-form.js';
import type { Fields, FormReader } from './form.js';

/** Frame, position, section, lot and yarn of a case. */
export function placeFields(
  make: Fields,
  { frames, yarns, lots }: Pick<StepContext, 'frames' | 'yarns' | 'lots'>,
  old: Old,
): FormField[] {
  return [
    make.select('frame', say('record.frame'), [NOTHING, ...frames], { chosen: [plain(old.frame)] }),
    make.number('position', say('record.position'), {
      value: plain(old.position),
      hint: say('record.position-hint'),
    }),
    make.text('section', say('record.section'), {
      value: plain(old.section),
      hint: say('record.section-hint'),
    }),
    make.select('yarn', say('record.yarn'), [NOTHING, ...yarns], { chosen: [plain(old.yarn)] }),
    make.select('lot', say('record.lot'), [NOTHING, ...lots], { chosen: [plain(old.lot)] }),
  ];
}

/** What such controls hold. */
export const readPlace = (reader: FormReader) => ({
  frame: reader.optional('frame'),
  position: reader.whole('position', say('record.position')),
  section: reader.optional('section'),
  lot: reader.optional('lot'),
  yarn: reader.optional('yarn'),
});
