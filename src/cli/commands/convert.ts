import { convertQuantity } from '../../spinning/units/conversion.js';
import { readQuantity } from '../../spinning/units/quantity.js';
import { type Command, JSON_OPTION, optionText, printJson } from '../command.js';
import { conversionRule } from '../conversion-rule.js';
import { argumentError, EXIT } from '../errors.js';
import { exact } from '../layout/figures.js';
import { startPage } from '../layout/page.js';

/** `peelpoint convert`: a quantity in another unit, with the exact factor. */
export const convert: Command = {
  name: 'convert',
  summary: 'convert a count, fineness, twist, speed, tenacity … into another unit',
  about: [
    'Converts a quantity into another unit of its kind and shows the exact factor used.',
    'A twist multiplier (alpha-e, alpha-m, alpha-tex) needs the yarn count as well: --count.',
  ],
  arguments: [
    { name: 'QUANTITY', help: 'a number with its unit, in quotes: "20 Ne", "4.3 alpha-e"' },
    { name: 'UNIT', help: 'the unit wanted: tex, Ne, Nm, dtex, den, mic, t/m, tpi, alpha-e, cN/tex …' },
  ],
  options: {
    count: { value: 'COUNT', help: 'the yarn count, for twist multipliers: --count "20 Ne"' },
    ...JSON_OPTION,
  },
  examples: [
    'peelpoint convert "20 Ne" tex',
    'peelpoint convert "4.3 alpha-e" t/m --count "20 Ne"',
    'peelpoint convert "4.2 mic" dtex --json',
  ],
  run: async (given, terminal) => {
    const [quantity = '', unit = ''] = given.arguments;
    const countText = optionText(given, 'count');
    const count = countText === undefined ? undefined : readQuantity(countText, 'count');
    if (count?.ok === false)
      throw argumentError('--count', countText ?? '', `cannot be used: ${count.reason}`, count.allowed);
    const result = convertQuantity(quantity, unit, count === undefined ? {} : { count: count.value });
    if (!result.ok) {
      if (count === undefined && result.reason.includes('needs the yarn count'))
        throw argumentError('--count', '', `is missing: ${result.reason}`, [
          'a yarn count, such as --count "20 Ne"',
        ]);
      const wrongUnit = result.reason.startsWith(`"${unit}" is not a known unit`);
      throw argumentError(
        wrongUnit ? 'UNIT' : 'QUANTITY',
        wrongUnit ? unit : quantity,
        wrongUnit
          ? 'is not a known unit'
          : // Why not is said by what is allowed, where only the unit does not fit.
            `cannot be converted into ${unit}${result.reason.includes('is not a unit of this field') ? '' : `: ${result.reason}`}`,
        result.allowed,
      );
    }
    const rule = conversionRule(result.from, result.unit, count?.value);
    if (given.options.has('json')) {
      printJson(terminal, {
        given: quantity,
        from: result.from,
        value: result.value,
        unit: result.unit,
        ...(count === undefined ? {} : { countTex: count.value }),
        rule,
      });
      return EXIT.done;
    }
    const page = startPage(terminal);
    const at = count === undefined ? '' : ` at ${countText?.trim()}`;
    page.strong(`${quantity.trim()}${at} = ${exact(result.value, 6)} ${result.unit}`);
    page.text(rule.words, '  ');
    for (const definition of rule.definitions) page.faint(definition, { first: '  ', rest: '    ' });
    page.print();
    return EXIT.done;
  },
};
