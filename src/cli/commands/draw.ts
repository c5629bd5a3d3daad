import { writeFile } from 'node:fs/promises';
import type { SpinningSetup } from '../../spinning/setup.js';
import type { ComputedState } from '../../spinning/state.js';
import { type Command, KNOWLEDGE_OPTION, optionText } from '../command.js';
import { interpretCase, knowledgeFolder, openDiagnostician } from '../engine.js';
import { argumentError, EXIT } from '../errors.js';
import { readSource } from '../source.js';

const MOST_MARKS = 4;

/** `peelpoint draw`: the position of a case to scale. */
export const draw: Command = {
  name: 'draw',
  summary: 'draw the position to scale, as an SVG file',
  about: [
    'Draws rotor, groove, fibre ring, yarn arm, nozzle, tube and the twist along the path from the setup of a case file, to scale and labelled, as an SVG file that fits a landscape A4 page. What the case file gives under "before" is drawn dashed.',
  ],
  arguments: [{ name: 'FILE', help: 'the case file, or - for standard input' }],
  options: {
    output: { value: 'OUT', help: 'the file to write; standard output when left out', short: 'o' },
    planned: { help: 'draw the setup of the recommended plan, the present one dashed' },
    causes: { help: 'mark where the likeliest causes act' },
    tall: { help: 'the views one below the other' },
    ...KNOWLEDGE_OPTION,
  },
  examples: ['peelpoint draw case.yaml -o position.svg', 'peelpoint draw case.yaml --planned -o plan.svg'],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const diagnostician = await openDiagnostician(given);
    const input = await interpretCase(text, file, diagnostician);
    const { knowledge } = diagnostician;
    const folder = await knowledgeFolder(given);
    const { resolveSetup } = await import('../../rules/case/resolve-setup.js');
    const { computeState } = await import('../../spinning/model.js');
    const { centralParameters } = await import('../../spinning/parameters.js');
    const { drawPosition } = await import('../../server/pictures/drawing/draw-position.js');
    const { standaloneDrawing } = await import('../../server/pictures/drawing/standalone.js');
    const { loadPlaces } = await import('../../rules/places.js');
    const { causeMarks } = await import('../../server/pictures/drawing/cause-marks.js');
    const parameters = centralParameters(knowledge.parameters);
    const withState = (setup: SpinningSetup): { setup: SpinningSetup; state: ComputedState } => ({
      setup,
      state: computeState(setup, parameters),
    });
    const resolved = resolveSetup(input.given, {
      endUses: knowledge.endUses,
      fibres: knowledge.parameters.fibres,
    });
    let setup = resolved.uncertain.central;
    let before = input.before === undefined ? undefined : { ...setup, ...input.before.values };
    if (given.options.has('planned')) {
      const { isComplaint, makePlans } = await import('../../rules/plans/make-plans.js');
      const { loadPlanBook } = await import('../../rules/plans/plan-book.js');
      const report = makePlans(knowledge, input, {
        plans: loadPlanBook(folder, knowledge.book),
        ...(isComplaint(input) ? { ranking: await diagnostician.rank(input) } : {}),
      });
      before = report.before;
      setup = report.after;
    }
    const now = withState(setup);
    const drawing = drawPosition(now.setup, now.state, {
      layout: given.options.has('tall') ? 'tall' : 'wide',
      ...(input.title === undefined ? {} : { title: input.title }),
      ...(before === undefined ? {} : { before: withState(before) }),
      ...(given.options.has('causes')
        ? { marks: causeMarks((await diagnostician.rank(input)).causes, MOST_MARKS, loadPlaces(folder)) }
        : {}),
    });
    const svg = standaloneDrawing(drawing);
    const out = optionText(given, 'output');
    if (out === undefined) terminal.out(svg);
    else {
      try {
        await writeFile(out, svg);
      } catch (error) {
        const code = (error as NodeJS.ErrnoException).code ?? 'unknown';
        throw argumentError('--output', out, `cannot be written (${code})`, [
          'the name of a file in a folder that is there',
        ]);
      }
      terminal.err(`${out} written.\n${drawing.description}\n`);
    }
    return EXIT.done;
  },
};
