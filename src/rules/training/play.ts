import { textureOf } from '../case/ladders.js';
import { TEXTURES } from '../knowledge/end-use-schema.js';
import type { Lesson } from './lesson-schema.js';

/** The frame of a lesson with its setting at one of the values, as the `setup` of a case file. */
export function playSetup(lesson: Lesson, value: string | number): Record<string, unknown> {
  const { setup, setting } = lesson.play;
  const [group = '', name] = setting.split('.');
  if (name === undefined) return { ...setup, [group]: value };
  const inner = setup[group] as Record<string, unknown> | undefined;
  if (setting !== 'nozzle.texture') return { ...setup, [group]: { ...inner, [name]: value } };
  const word = TEXTURES.find((one) => one === value);
  if (word === undefined) return { ...setup, [group]: { ...inner, surface: value } };
  const { surface, notches } = textureOf(word);
  return { ...setup, [group]: { ...inner, surface, ...(surface === 'notched' ? { notches } : {}) } };
}
