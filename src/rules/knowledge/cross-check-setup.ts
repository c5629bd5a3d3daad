import type { FibreEntry, ParameterEntry } from '../../spinning/parameters.js';
import type { EndUse } from './end-use-schema.js';
import type { KnowledgeProblem } from './errors.js';
import { isKnownFact } from './facts.js';
import type { RuleBook } from './knowledge-base.js';
import type { Basis, Condition } from './schema.js';

/** Fibre ids and facts that the setup side of the knowledge base may name without a file of its own. */
const OTHER_FIBRES = 'other';

/** What is wrong between the files that describe setups: fibres, sources and facts that do not exist. */
export function crossCheckSetup({
  book,
  endUses,
  fibres,
  model,
}: {
  book: RuleBook;
  endUses: ReadonlyMap<string, EndUse>;
  fibres: ReadonlyMap<string, FibreEntry>;
  model: Readonly<Record<string, ParameterEntry | undefined>>;
}): KnowledgeProblem[] {
  const problems: KnowledgeProblem[] = [];
  const say = (file: string, field: string, message: string) =>
    problems.push({ file, line: undefined, field, message });
  const checkSource = (
    file: string,
    field: string,
    { standing, source }: { standing: string; source?: string | undefined },
  ) => {
    if (source === undefined) return;
    const known = book.sources.get(source);
    if (known === undefined) say(file, field, `source "${source}" is not in sources/`);
    else if (standing === 'published' && known.seen !== 'read')
      say(file, field, `source "${source}" was not read, so it cannot be cited as published`);
  };
  const checkFacts = (file: string, field: string, condition: Condition): void => {
    if ('all' in condition) for (const part of condition.all) checkFacts(file, field, part);
    else if ('any' in condition) for (const part of condition.any) checkFacts(file, field, part);
    else if (!isKnownFact(condition.fact, book))
      say(file, field, `"${condition.fact}" is not a fact that rules can see`);
  };

  if (endUses.size === 0) say('end-uses', '', 'there is no end use');
  for (const [id, endUse] of endUses) {
    const file = `end-uses/${id}.yaml`;
    for (const [name, usual] of Object.entries(endUse.usual)) {
      if (typeof usual === 'number') continue;
      checkSource(file, `usual.${name}.basis`, usual.basis satisfies Basis);
      for (const fibre of Object.keys(usual['by-fibre']))
        if (fibre !== OTHER_FIBRES && !fibres.has(fibre))
          say(file, `usual.${name}.by-fibre.${fibre}`, 'is not a fibre');
    }
    endUse.limits.forEach((limit, n) => {
      checkSource(file, `limits.${n}.basis`, limit.basis);
    });
    endUse.forbids?.forEach((forbidden, n) => {
      checkSource(file, `forbids.${n}.basis`, forbidden.basis);
      checkFacts(file, `forbids.${n}.when`, forbidden.when);
    });
  }
  for (const [id, fibre] of fibres)
    for (const [name, entry] of Object.entries(fibre.parameters))
      checkSource(`fibres/${id}.yaml`, `parameters.${name}`, entry);
  for (const [name, entry] of Object.entries(model))
    if (entry !== undefined) checkSource('model', name, entry);
  return problems;
}
