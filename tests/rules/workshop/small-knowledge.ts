import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { stringify } from 'yaml';
import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';

/** A file of the knowledge base as plain data, loosely typed so that tests can plant mistakes. */
// biome-ignore lint/suspicious/noExplicitAny: mistakes are planted here that no type would allow
export type Planted = Record<string, any>;
export type Files = Record<string, Planted>;

const JUDGED = { standing: 'judgement' };
const PRACTICE = { standing: 'common-practice' };
const link = (to: string, strength = 'strong') => ({ to, strength, why: 'It does.', basis: JUDGED });

function cause(id: string, more: Planted): Planted {
  return {
    id,
    label: `Cause ${id}`,
    family: 'nozzle',
    kind: 'condition',
    what: 'Something is wrong.',
    prior: { base: 0.3, basis: JUDGED },
    scope: { position: 0.9, frame: 0.1 },
    onset: { sudden: 0.5, creeping: 0.5 },
    'trace-minutes': 10,
    checks: ['look'],
    actions: [{ do: 'mend', cures: 0.8 }],
    examples: [
      { name: 'It leads', given: { setup: { fibre: 'cotton', count: 30 } }, expect: 'first-three' },
      { name: 'It falls', given: { setup: { fibre: 'cotton', count: 40 } }, expect: 'below-2-percent' },
    ],
    ...more,
  };
}

/** Four causes, two mechanisms, two symptoms, one check, one action: loads without any finding. */
function smallFiles(): Files {
  return {
    'causes/worn.yaml': cause('worn', {
      'leads-to': [link('grip:low'), link('look:track')],
      rules: [
        {
          id: 'past-life',
          when: { fact: 'setup.nozzle.hours', operator: 'at-least', value: 9000 },
          for: 'slightly',
          because: 'Old.',
          basis: JUDGED,
        },
      ],
    }),
    'causes/dirty.yaml': cause('dirty', {
      'leads-to': [link('grip:low'), link('hairy', 'weak'), link('look:dust')],
    }),
    'causes/rough.yaml': cause('rough', { 'leads-to': [link('drag:high'), link('look:edge')] }),
    'causes/dry.yaml': cause('dry', {
      'leads-to': [link('drag:high', 'weak'), link('breaks', 'weak'), link('look:fly')],
      scope: { mill: 1 - 1e-6 },
    }),
    'mechanisms/grip.yaml': {
      id: 'grip',
      label: 'Grip',
      plain: 'How well it holds.',
      states: { low: { label: 'Low grip', leak: 0.01, 'leads-to': [link('breaks')] } },
    },
    'mechanisms/drag.yaml': {
      id: 'drag',
      label: 'Drag',
      plain: 'How much it rubs.',
      states: { high: { label: 'Much drag', leak: 0.01, 'leads-to': [link('breaks'), link('hairy')] } },
    },
    'symptoms/breaks.yaml': symptom('breaks'),
    'symptoms/hairy.yaml': symptom('hairy'),
    'checks/look.yaml': {
      id: 'look',
      label: 'Look at the nozzle',
      ask: 'How does it look?',
      how: ['Look.'],
      minutes: 2,
      stops: 'position',
      who: 'fitter',
      basis: PRACTICE,
      outcomes: {
        fine: { label: 'Fine', means: 'normal' },
        ...Object.fromEntries(
          ['track', 'dust', 'edge', 'fly'].map((id) => [
            id,
            { label: `A ${id}`, means: 'deviation', leak: 0.02 },
          ]),
        ),
      },
    },
    'actions/mend.yaml': {
      id: 'mend',
      label: 'Mend it',
      kind: 'repair',
      steps: ['Mend.'],
      minutes: 5,
      per: 'position',
      stops: 'position',
      who: 'fitter',
      cost: 'low',
      proof: 'It runs.',
      'go-back': 'Put it back.',
      cautions: ['manual-first'],
      basis: PRACTICE,
    },
    'cautions.yaml': { 'manual-first': { text: 'The manual comes first.', basis: PRACTICE } },
  };
}

function symptom(id: string): Planted {
  return {
    id,
    label: `Symptom ${id}`,
    group: 'running',
    look: 'One sees it.',
    leak: 0.03,
    'leak-marked': 0.01,
    basis: JUDGED,
  };
}

/** The file with one more link. */
export function addLink(files: Files, file: string, to: string, more: Planted = {}): void {
  files[file]?.['leads-to'].push({ ...link(to), ...more });
}

/** The cause `worn` with one more rule. */
export function addRule(files: Files, id: string, when: unknown, more: Planted = { for: 'clearly' }): void {
  files['causes/worn.yaml']?.rules.push({ id, when, because: 'So it is.', basis: JUDGED, ...more });
}

/** A further symptom that three causes bring about. */
export function addSymptom(files: Files, id: string, parents: readonly string[]): void {
  files[`symptoms/${id}.yaml`] = symptom(id);
  for (const parent of parents) addLink(files, `causes/${parent}.yaml`, id);
}

/** A further cause. */
export function addCause(files: Files, id: string, more: Planted): void {
  files[`causes/${id}.yaml`] = cause(id, more);
}

const made: string[] = [];

/**
 * Writes the small knowledge base, with one change, into a new folder and returns it. The model, fibres and end uses
 * are the real ones. Undefined takes a file away.
 */
export function writeSmallKnowledge(change: (files: Files) => void = () => {}): string {
  const root = mkdtempSync(join(tmpdir(), 'peelpoint-knowledge-'));
  made.push(root);
  for (const part of ['model', 'fibres', 'end-uses', 'sources', 'judgements.yaml'])
    cpSync(join(defaultKnowledgeFolder(), part), join(root, part), { recursive: true });
  const files = smallFiles();
  change(files);
  for (const [path, data] of Object.entries(files)) writePlanted(root, path, data);
  return root;
}

/** Writes one file of a knowledge base. */
export function writePlanted(root: string, path: string, data: Planted): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), stringify(data, { aliasDuplicateObjects: false }));
}

/** Removes every folder that was made. */
export function removeSmallKnowledge(): void {
  for (const root of made.splice(0)) rmSync(root, { recursive: true, force: true });
}
