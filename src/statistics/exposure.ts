import { requireCount, requirePositive } from './checks.js';

/** Events counted over running time. Rotor-hours are running hours times positions; stopped time does not count. */
export interface CountOverHours {
  readonly count: number;
  readonly rotorHours: number;
}

/** Checks a count and its rotor-hours; `field` is the name used in the error. */
export function requireExposure<T extends CountOverHours>(field: string, value: T): T {
  requireCount(`${field}.count`, value.count);
  requirePositive(`${field}.rotorHours`, value.rotorHours);
  return value;
}

/** The sum of several counts and of their rotor-hours. */
export function pool(parts: readonly CountOverHours[]): CountOverHours {
  let count = 0;
  let rotorHours = 0;
  for (const part of parts) {
    count += part.count;
    rotorHours += part.rotorHours;
  }
  return { count, rotorHours };
}
