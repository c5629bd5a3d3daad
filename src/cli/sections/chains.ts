import type { Chain, ChainStep, Ground } from '../../rules/index.js';
import { percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';

/** Numbers the publications cited on a page. */
export interface Citations {
  /** `physics`, or `published [2]`. */
  say(ground: Ground): string;
  readonly list: readonly string[];
}

export function startCitations(): Citations {
  const list: string[] = [];
  return {
    list,
    say: (ground) => {
      if (ground.cite === undefined) return ground.standing;
      const text = ground.address === undefined ? ground.cite : `${ground.cite} <${ground.address}>`;
      if (!list.includes(text)) list.push(text);
      return `${ground.standing} [${list.indexOf(text) + 1}]`;
    },
  };
}

/** The chains of a cause, step by step; what a chain shares with the first is not told twice. */
export function writeChains(page: Page, chains: readonly Chain[], citations: Citations): void {
  const [leading] = chains;
  chains.forEach((chain, index) => {
    const shared = index === 0 || leading === undefined ? 0 : sharedSteps(leading.steps, chain.steps);
    const last = chain.steps[shared - 1];
    page.strong(`${index + 1}. To: ${chain.steps.at(-1)?.label ?? ''}`, { first: '  ', rest: '     ' });
    if (shared > 1 && last !== undefined) page.text(`as in 1 as far as: ${last.label}`, '     ');
    for (const step of chain.steps.slice(shared > 1 ? shared : 0)) {
      if (step.link !== undefined) {
        const how = step.link.strength ?? percent(step.link.value);
        page.faint(`${how}: ${step.link.why} (${citations.say(step.link.ground)})`, {
          first: '       ↓ ',
          rest: '         ',
        });
      }
      page.text(step.kind === 'setting' ? step.label : `${step.label}${sayChance(step)}`, '     ');
    }
  });
}

function sayChance(step: ChainStep): string {
  return step.kind === 'cause' || step.kind === 'mechanism' ? ` (${percent(step.probability)})` : ' – seen';
}

function sharedSteps(a: readonly ChainStep[], b: readonly ChainStep[]): number {
  let count = 0;
  while (count < b.length - 1 && a[count] !== undefined && a[count]?.node === b[count]?.node) count++;
  return count;
}
