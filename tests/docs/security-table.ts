/** A row of the table of requirements. */
export interface RequirementRow {
  /** The numbers it stands for, `1.2.4`. */
  readonly numbers: readonly string[];
  readonly asks: string;
  readonly state: string;
  readonly how: string;
  /** Test files, without `tests/` and ending. */
  readonly tests: readonly string[];
}

export const STATES = ['met', 'in part', 'not met', 'operator', 'n/a'] as const;

/**
 * Requirements of levels 1 and 2 of the OWASP Application Security Verification Standard 5.0.0, section by section; the
 * third figure runs from 1, those of level 3 left out.
 */
const SECTIONS =
  '1.1:1,2 1.2:1,2,3,4,5,6,7,8,9 1.3:1,2,3,4,5,6,7,8,9,10,11 1.4:1,2,3 1.5:1,2 2.1:1,2,3 2.2:1,2,3 2.3:1,2,3,4 2.4:1 3.2:1,2 3.3:1,2,3,4 3.4:1,2,3,4,5,6 3.5:1,2,3,4,5 3.7:1,2 4.1:1,2,3 4.2:1 4.3:1,2 4.4:1,2,3,4 5.1:1 5.2:1,2,3 5.3:1,2 5.4:1,2,3 6.1:1,2,3 6.2:1,2,3,4,5,6,7,8,9,10,11,12 6.3:1,2,3,4 6.4:1,2,3,4 6.5:1,2,3,4,5 6.6:1,2,3 6.8:1,2,3,4 7.1:1,2,3 7.2:1,2,3,4 7.3:1,2 7.4:1,2,3,4,5 7.5:1,2 7.6:1,2 8.1:1,2 8.2:1,2,3 8.3:1 8.4:1 9.1:1,2,3 9.2:1,2,3,4 10.1:1,2 10.2:1,2 10.3:1,2,3,4 10.4:1,2,3,4,5,6,7,8,9,10,11 10.5:1,2,3,4,5 10.6:1,2 10.7:1,2,3 11.1:1,2 11.2:1,2,3 11.3:1,2,3 11.4:1,2,3,4 11.5:1 11.6:1 12.1:1,2,3 12.2:1,2 12.3:1,2,3,4 13.1:1 13.2:1,2,3,4,5 13.3:1,2 13.4:1,2,3,4,5 14.1:1,2 14.2:1,2,3,4 14.3:1,2,3 15.1:1,2,3 15.2:1,2,3 15.3:1,2,3,4,5,6,7 16.1:1 16.2:1,2,3,4,5 16.3:1,2,3,4 16.4:1,2,3 16.5:1,2,3 17.1:1 17.2:1,2,3,4 17.3:1,2';

/** All their numbers. */
export const REQUIREMENTS: readonly string[] = SECTIONS.split(' ').flatMap((one) => {
  const [section = '', numbers = ''] = one.split(':');
  return numbers.split(',').map((number) => `${section}.${number}`);
});

/** Reads the rows of the tables in a text; `V1.2.6–V1.2.8` stands for all the requirements between. */
export function readRequirementRows(text: string): RequirementRow[] {
  return text.split('\n').flatMap((line) => {
    const cells = line.split('|').map((cell) => cell.trim());
    const [, range = '', asks = '', state = '', how = '', tests = ''] = cells;
    const match = /^V(\d+\.\d+\.\d+)(?:–V(\d+\.\d+\.\d+))?$/.exec(range);
    if (match === null) return [];
    const [, from = '', until = from] = match;
    const first = REQUIREMENTS.indexOf(from);
    const last = REQUIREMENTS.indexOf(until);
    return [
      {
        numbers: first < 0 || last < first ? [range] : REQUIREMENTS.slice(first, last + 1),
        asks,
        state,
        how,
        tests: [...tests.matchAll(/`([^`]+)`/g)].map((one) => one[1] ?? ''),
      },
    ];
  });
}
