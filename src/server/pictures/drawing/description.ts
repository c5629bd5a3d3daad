import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { inSentence } from '../../../language/words.js';
import { textureWords } from './lip-view.js';
import type { Measure } from './measures.js';
import type { Drawn } from './view.js';

/** A picture in words, for those who cannot see it: what lies where, and every measure. */
export function describeDrawing(
  drawn: Drawn,
  measures: readonly Measure[],
  marks: readonly { readonly label: string; readonly placeLabel: string }[],
): string {
  const { setup, geometry: g, state } = drawn;
  const n = (id: string) => {
    const one = measures.find((measure) => measure.id === id);
    return one === undefined ? '' : localDecimal(one.value.toFixed(one.digits).replace('-', '−'));
  };
  const insert =
    setup.insert === 'none'
      ? say('drawing-text.no-insert')
      : say('drawing-text.insert', { insert: setup.insert.replace('-', ' ') });
  const protrusion =
    Math.abs(g.protrusion) < 0.05
      ? say('drawing-text.level')
      : say('drawing-text.protrusion', {
          size: n('protrusion').replace('−', ''),
          side: g.protrusion > 0 ? 'beyond' : 'short',
        });
  const room = g.bindingLength >= g.requiredLength ? 'more' : 'less';
  const moved = measures.filter((measure) => measure.before !== undefined);
  return [
    say('drawing-text.rotor', { size: n('rotor-diameter'), speed: String(Math.round(setup.rotorSpeedRpm)) }),
    say('drawing-text.groove', { length: n('binding-in'), room, needed: n('required-binding-in') }),
    say('drawing-text.arm', {
      length: n('arm-length'),
      texture: textureWords(drawn),
      radius: n('nozzle-radius'),
      protrusion,
      angle: n('wrap-angle'),
    }),
    say('drawing-text.tube', { angle: n('tube-bend'), insert }),
    say('drawing-text.twist', {
      arm: n('twist-arm'),
      more: state.falseTwistPct.toFixed(0),
      before: n('twist-before-bend'),
      set: n('twist-set'),
    }),
    ...(moved.length === 0
      ? []
      : [
          say('drawing-text.dashed', {
            moved: moved
              .map((one) =>
                say('drawing-text.was', {
                  measure: inSentence(one.label),
                  value: `${localDecimal((one.before ?? 0).toFixed(one.digits))} ${one.unit}`.trim(),
                }),
              )
              .join(', '),
          }),
        ]),
    ...marks.map((mark, i) =>
      say('drawing-text.mark', { n: i + 1, place: mark.placeLabel, mark: mark.label }),
    ),
  ].join(' ');
}
