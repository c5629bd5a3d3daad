import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';
import { describeFinding, type Finding, type FindingCode } from '../../../src/rules/workshop/finding.js';
import { lintKnowledge } from '../../../src/rules/workshop/lint-knowledge.js';
import {
  addCause,
  addLink,
  addRule,
  addSymptom,
  type Files,
  removeSmallKnowledge,
  writePlanted,
  writeSmallKnowledge,
} from './small-knowledge.js';

afterEach(removeSmallKnowledge);

/** Findings of a small knowledge base with one mistake in it, but for notes on sources it does not need. */
function lintWith(change?: (files: Files) => void): Finding[] {
  return lintKnowledge(writeSmallKnowledge(change)).filter((one) => one.code !== 'unused-source');
}

const when = (fact: string, operator: string, value: unknown) => ({ fact, operator, value });
const count = (operator: string, value: number) => when('setup.count', operator, value);

describe('knowledge check', () => {
  it('finds nothing in a small knowledge base that is in order', () => {
    expect(lintWith().map(describeFinding)).toEqual([]);
  });

  it('finds nothing in the real one but what it accepts with a reason', () => {
    const open = lintKnowledge(defaultKnowledgeFolder()).filter(
      (one) => one.accepted === undefined && one.severity !== 'note',
    );
    expect(open.map(describeFinding)).toEqual([]);
  });

  it('names the line of the field', () => {
    const root = writeSmallKnowledge((files) => addRule(files, 'odd', count('below', 1)));
    const [finding] = lintKnowledge(root).filter((one) => one.code === 'impossible-value');
    const lines = readFileSync(join(root, 'causes/worn.yaml'), 'utf8').split('\n');
    expect(finding?.file).toBe('causes/worn.yaml');
    expect(lines[(finding?.line ?? 0) - 1]).toContain('value: 1');
  });

  it('names the file and line of a source that nobody cites', () => {
    const found = lintKnowledge(writeSmallKnowledge()).find((one) => one.code === 'unused-source');
    expect(found?.file).toMatch(/^sources\/.*\.yaml$/);
    expect(found?.line).toBeGreaterThan(0);
  });

  const plants: readonly [FindingCode, string, (files: Files) => void, RegExp][] = [
    [
      'unreadable',
      'a statement without standing',
      (files) => {
        delete files['checks/look.yaml']?.basis;
      },
      /basis/,
    ],
    [
      'unreadable',
      'an action without caution',
      (files) => {
        (files['actions/mend.yaml'] as Files).cautions = [] as never;
      },
      /cautions/,
    ],
    [
      'reference',
      'a link to nowhere',
      (files) => addLink(files, 'causes/worn.yaml', 'no-such-thing'),
      /no-such/,
    ],
    [
      'cycle',
      'two mechanisms in a circle',
      (files) => {
        files['mechanisms/grip.yaml']?.states.low['leads-to'].push({
          to: 'drag:high',
          strength: 'weak',
          why: 'So.',
          basis: { standing: 'judgement' },
        });
        files['mechanisms/drag.yaml']?.states.high['leads-to'].push({
          to: 'grip:low',
          strength: 'weak',
          why: 'So.',
          basis: { standing: 'judgement' },
        });
      },
      /circle/,
    ],
    [
      'unreadable-case',
      'an example with a symptom that does not exist',
      (files) => {
        (files['causes/dry.yaml']?.examples[0] as Files).given = {
          observations: { grumpy: 'marked' },
        } as never;
      },
      /"It leads".*grumpy/,
    ],
    [
      'unreadable-case',
      'a situation that expects a cause that does not exist',
      (files) => {
        files['cases/odd.yaml'] = {
          id: 'odd',
          title: 'Odd',
          kind: 'one-fault',
          story: 'One. Two.',
          teaches: 'One.',
          setup: { fibre: 'cotton', count: '20 Ne' },
          expect: [{ cause: 'gremlins', is: 'first' }],
        };
      },
      /gremlins/,
    ],
    [
      'no-parent',
      'a mechanism without parent',
      (files) => {
        (files['mechanisms/grip.yaml'] as Files).states = {
          ...files['mechanisms/grip.yaml']?.states,
          high: { ...files['mechanisms/grip.yaml']?.states.low, label: 'High grip' },
        };
      },
      /mechanism "grip:high"/,
    ],
    ['no-parent', 'a symptom without cause', (files) => addSymptom(files, 'lone', []), /symptom "lone"/],
    [
      'unused-outcome',
      'an outcome nothing leads to',
      (files) => {
        (files['checks/look.yaml'] as Files).outcomes = {
          ...files['checks/look.yaml']?.outcomes,
          crack: { label: 'A crack', means: 'deviation', leak: 0.01 },
        };
      },
      /look:crack/,
    ],
    [
      'no-effect',
      'a cause without effect',
      (files) =>
        addCause(files, 'idle', {
          'leads-to': [],
          part: 'nozzle',
          prior: { base: 0.1, basis: { standing: 'judgement' } },
        }),
      /"idle"/,
    ],
    [
      'wrong-type',
      'a number compared with text',
      (files) => addRule(files, 'odd', when('setup.count', 'is', 'fine')),
      /is a number/,
    ],
    [
      'wrong-type',
      'a word compared by size',
      (files) => addRule(files, 'odd', when('setup.rotor.groove', 'above', 3)),
      /is a word/,
    ],
    [
      'wrong-type',
      'a list where one word is due',
      (files) => addRule(files, 'odd', when('setup.rotor.groove', 'is', ['wide', 'narrow'])),
      /one word/,
    ],
    [
      'impossible-value',
      'a count of 0.02 tex',
      (files) => addRule(files, 'odd', count('below', 0.02)),
      /5 to 1000/,
    ],
    [
      'impossible-value',
      'an insert that does not exist',
      (files) => addRule(files, 'odd', when('setup.tube.insert', 'is-one-of', ['4-groove', 'none'])),
      /4-groove/,
    ],
    [
      'never-fires',
      'an interval that contradicts itself',
      (files) => addRule(files, 'odd', { all: [count('below', 20), count('above', 30)] }),
      /contradicts itself/,
    ],
    [
      'never-fires',
      'two values of one fact',
      (files) =>
        addRule(files, 'odd', {
          all: [when('setup.rotor.groove', 'is', 'wide'), when('setup.rotor.groove', 'is', 'narrow')],
        }),
      /contradicts itself/,
    ],
    [
      'never-fires',
      'a part of an "any" that contradicts itself',
      (files) =>
        addRule(files, 'odd', {
          any: [
            count('below', 15),
            { all: [when('where', 'includes', 'frame'), when('where', 'excludes', 'frame')] },
          ],
        }),
      /contradicts itself/,
    ],
    [
      'never-fires',
      'a fibre that no case can give',
      (files) => addRule(files, 'odd', when('fibre.asbestos', 'above', 10)),
      /no case can give/,
    ],
    [
      'always-fires',
      'a tautology',
      (files) => addRule(files, 'odd', { any: [count('below', 40), count('at-least', 30)] }),
      /whatever the value/,
    ],
    [
      'dead-link',
      'a link dropped whenever it would hold',
      (files) =>
        addLink(files, 'causes/worn.yaml', 'hairy', {
          'only-if': count('below', 20),
          unless: count('below', 30),
        }),
      /dropped/,
    ],
    [
      'contradiction',
      'one condition for and against',
      (files) => {
        addRule(files, 'pro', count('below', 20));
        addRule(files, 'contra', { any: [count('below', 20), count('below', 15)] }, { against: 'slightly' });
      },
      /"pro" and "contra".*for example with setup\.count/,
    ],
    [
      'duplicate-condition',
      'one condition twice',
      (files) => {
        addRule(files, 'one', { all: [count('below', 20), when('where', 'includes', 'frame')] });
        addRule(files, 'two', { all: [when('where', 'includes', 'frame'), count('below', 20)] });
      },
      /"one" and "two"/,
    ],
    [
      'subsumed',
      'a narrow rule inside a wide one',
      (files) => {
        addRule(files, 'wide', count('below', 30));
        addRule(files, 'narrow', count('at-most', 20));
      },
      /whenever "narrow" fires, "wide" does too/,
    ],
    [
      'cancelled',
      'a narrow rule taken back by a wide one',
      (files) => {
        addRule(files, 'wide', count('below', 30), { against: 'clearly' });
        addRule(files, 'narrow', { all: [count('below', 20), when('where', 'includes', 'lot')] });
      },
      /takes its weight away/,
    ],
    [
      'moot',
      'a rule where the cause is excluded',
      (files) => {
        (files['causes/worn.yaml'] as Files)['ruled-out'] = [
          { when: count('below', 20), because: 'No.', basis: { standing: 'judgement' } },
        ] as never;
        addRule(files, 'idle', count('below', 10));
      },
      /ruled out anyway/,
    ],
    [
      'not-told-apart',
      'two causes with one signature',
      (files) => {
        const { id: _, label: __, ...body } = files['causes/dirty.yaml'] ?? {};
        addCause(files, 'dirty-too', body);
      },
      /"dirty-too" from "dirty".*nothing separates/,
    ],
    [
      'not-told-apart',
      'two causes that differ by next to nothing',
      (files) => {
        const { id: _, label: __, ...body } = files['causes/dirty.yaml'] ?? {};
        addCause(files, 'dirty-too', { ...body, onset: { sudden: 0.4, creeping: 0.6 } });
      },
      /began: sudden/,
    ],
    [
      'few-causes',
      'a symptom with two causes',
      (files) => addSymptom(files, 'rare', ['worn', 'dry']),
      /dry and worn/,
    ],
    [
      'no-distinguishing-check',
      'a cause whose check says nothing of it',
      (files) => {
        const dry = files['causes/dry.yaml'] as Files;
        dry['leads-to'] = (dry['leads-to'] as never as { to: string }[]).filter(
          (one) => one.to !== 'look:fly',
        ) as never;
      },
      /"dry"/,
    ],
    [
      'in-degree',
      'a crowded node',
      (files) => {
        for (let i = 0; i < 8; i++)
          addCause(files, `crowd-${i}`, {
            prior: { base: 0.01, basis: { standing: 'judgement' } },
            'leads-to': [
              { to: 'breaks', strength: 'weak', why: 'So.', basis: { standing: 'judgement' } },
              { to: 'look:dust', strength: 'strong', why: 'So.', basis: { standing: 'judgement' } },
            ],
          });
      },
      /11 links lead to "breaks"/,
    ],
    [
      'base-rates',
      'base rates too high',
      (files) => {
        for (const id of ['worn', 'dirty'])
          (files[`causes/${id}.yaml`] as Files).prior = { base: 0.9, basis: { standing: 'judgement' } };
      },
      /sum to 2\.40/,
    ],
    [
      'no-examples',
      'a cause without examples',
      (files) => {
        delete files['causes/dry.yaml']?.examples;
      },
      /"dry" has no examples/,
    ],
    [
      'no-examples',
      'a cause never shown to fall',
      (files) => {
        files['causes/dry.yaml']?.examples.pop();
      },
      /below 2 %/,
    ],
    [
      'unused-action',
      'an action no cause names',
      (files) => {
        files['actions/polish.yaml'] = { ...files['actions/mend.yaml'], id: 'polish' };
      },
      /"polish"/,
    ],
    [
      'unused-caution',
      'a caution nothing raises',
      (files) => {
        (files['cautions.yaml'] as Files)['hot-parts'] = {
          text: 'Hot.',
          basis: { standing: 'common-practice' },
        };
      },
      /"hot-parts"/,
    ],
    [
      'to-do',
      'a placeholder',
      (files) => {
        (files['causes/dry.yaml'] as Files).what = 'TODO: say what is wrong' as never;
      },
      /TODO: say what/,
    ],
  ];

  it.each(plants)('finds %s: %s', (code, _what, change, message) => {
    const findings = lintWith(change);
    const found = findings.filter((one) => one.code === code);
    expect(found.map(describeFinding).join('\n'), findings.map(describeFinding).join('\n')).toMatch(message);
  });

  it('finds a network too dense to answer quickly', () => {
    const found = lintWith((files) => {
      const many = Array.from({ length: 30 }, (_, i) => i);
      for (const i of many)
        files[`symptoms/sign-${i}.yaml`] = { ...files['symptoms/breaks.yaml'], id: `sign-${i}` };
      for (const i of many)
        addCause(files, `tangle-${i}`, {
          prior: { base: 0.001, basis: { standing: 'judgement' } },
          'leads-to': many
            .filter((n) => (n * 7 + i * 11 + n * i) % 3 > 0)
            .map((n) => ({
              to: `sign-${n}`,
              strength: 'weak',
              why: 'So.',
              basis: { standing: 'judgement' },
            })),
        });
    });
    expect(found.filter((one) => one.code === 'width').map((one) => one.message)[0]).toMatch(/width \d\d/);
  });

  it('lets a link ask no more than that a fact is known', () => {
    const found = lintWith((files) =>
      addLink(files, 'causes/worn.yaml', 'hairy', { unless: count('at-least', 1) }),
    );
    expect(found.map(describeFinding)).toEqual([]);
  });

  it('does not call rules of different weight or of overlapping conditions repeated', () => {
    const found = lintWith((files) => {
      addRule(files, 'wide', count('below', 30), { for: 'slightly' });
      addRule(files, 'narrow', count('below', 20), { for: 'clearly' });
      addRule(files, 'other-side', { all: [count('above', 15), when('where', 'includes', 'lot')] });
      addRule(files, 'either', { any: [count('above', 50), when('observed.hairy', 'is', 'marked')] });
    });
    expect(found.map(describeFinding)).toEqual([]);
  });
});

describe('accepted findings', () => {
  const planted = (files: Files) => addSymptom(files, 'rare', ['worn', 'dry']);

  it('carries the reason along, and leaves errors as they are', () => {
    const root = writeSmallKnowledge((files) => {
      planted(files);
      addRule(files, 'odd', count('below', 0.02));
    });
    writePlanted(root, 'accepted-findings.yaml', [
      { code: 'few-causes', file: 'symptoms/rare.yaml', because: 'Two causes are all there are.' },
      { code: 'impossible-value', file: 'causes/worn.yaml', because: 'Never mind.' },
    ]);
    const findings = lintKnowledge(root);
    expect(findings.find((one) => one.code === 'few-causes')?.accepted).toBe('Two causes are all there are.');
    expect(findings.find((one) => one.code === 'impossible-value')?.accepted).toBeUndefined();
  });

  it('reports an acceptance that matches nothing', () => {
    const root = writeSmallKnowledge();
    writePlanted(root, 'accepted-findings.yaml', [
      { code: 'few-causes', file: 'symptoms/gone.yaml', because: 'Was so.' },
    ]);
    expect(lintKnowledge(root).map((one) => one.code)).toContain('stale-acceptance');
  });

  it('reports a list it cannot read', () => {
    const root = writeSmallKnowledge();
    writePlanted(root, 'accepted-findings.yaml', [{ code: 'few-causes', file: 'symptoms/gone.yaml' }]);
    expect(lintKnowledge(root).filter((one) => one.file === 'accepted-findings.yaml')[0]?.message).toMatch(
      /because/,
    );
  });
});
