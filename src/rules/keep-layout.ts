const last = new Map<unknown, object>();

/**
 * Keeps the newest object of its class alive. V8 holds the layout of a class's objects only as long as one of them lives;
 * at a full sweep of memory without any it forgets the layout and with it the code compiled for it. For classes whose
 * objects live for part of a question only and whose methods are hot. What the object refers to stays alive with it.
 */
export function keepLayout<Kept extends object>(object: Kept): Kept {
  last.set(object.constructor, object);
  return object;
}
