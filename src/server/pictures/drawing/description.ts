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
    return one === undefined ? '' : one.value.toFixed(one.digits).replace('-', '−');
  };
  const insert =
    setup.insert === 'none'
      ? 'There is no insert'
      : `An insert (${setup.insert.replace('-', ' ')}) lies on the inner side of the bend`;
  const protrusion =
    Math.abs(g.protrusion) < 0.05
      ? 'level with the groove plane'
      : `${n('protrusion').replace('−', '')} mm ${g.protrusion > 0 ? 'beyond' : 'short of'} the groove plane`;
  const room = g.bindingLength >= g.requiredLength ? 'more than' : 'less than';
  const moved = measures.filter((measure) => measure.before !== undefined);
  return [
    `A spinning position drawn to scale. The rotor is ${n('rotor-diameter')} mm across and turns at ${Math.round(setup.rotorSpeedRpm)} rpm.`,
    `Fibres lie in its groove; over ${n('binding-in')} mm ahead of the peel point twist runs into them, ${room} the ${n('required-binding-in')} mm they need.`,
    `The yarn arm runs ${n('arm-length')} mm from the groove to the nozzle (${textureWords(drawn)}, entry radius ${n('nozzle-radius')} mm), whose face stands ${protrusion}, and lies on it over ${n('wrap-angle')}°.`,
    `The draw-off tube bends by ${n('tube-bend')}°. ${insert}.`,
    `Twist: ${n('twist-arm')} turns a metre in the arm (${state.falseTwistPct.toFixed(0)} % more than set), ${n('twist-before-bend')} between nozzle and bend, ${n('twist-set')} after the bend.`,
    ...(moved.length === 0
      ? []
      : [
          `Dashed lines show the position before the change: ${moved.map((one) => `${one.label.toLowerCase()} was ${(one.before ?? 0).toFixed(one.digits)} ${one.unit}`.trim()).join(', ')}.`,
        ]),
    ...marks.map((mark, i) => `Mark ${i + 1}, ${mark.placeLabel}: ${mark.label}.`),
  ].join(' ');
}
