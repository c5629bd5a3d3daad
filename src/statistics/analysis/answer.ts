import { say } from '../words.js';
import { sayAbout, sayBreaks, sayNames, sayOnceIn, sayTimes } from './plain-words.js';
import { stands } from './questions.js';
import type { CountAnalysis, FramePlaces, Question, Sentence, TimeCourse } from './types.js';

type Found = Omit<CountAnalysis, 'figures' | 'answer'>;

/** The worst position of all, when none stands out, with what it would make next time. */
export function worstOf(places: readonly FramePlaces[]) {
  const [worst] = places
    .flatMap((place) => place.positions.map((position) => ({ place, position })))
    .sort((a, b) => a.position.pExact - b.position.pExact);
  if (worst === undefined || worst.position.count < 2) return undefined;
  return {
    id: worst.position.id,
    frame: worst.place.frame,
    count: worst.position.count,
    among: places.reduce((sum, place) => sum + place.positions.length, 0),
    next: (worst.position.shrunkenPer1000 * worst.position.rate.rotorHours) / 1000,
  };
}

/** The answer in sentences without a word of statistics, each with the figures it rests on. */
export function writeAnswer(found: Found, normPer1000: number | undefined): CountAnalysis['answer'] {
  return {
    realOrChance: sayVerdict(found, normPer1000),
    where: sayWhere(found),
    sinceWhen: saySince(found),
    next: sayNext(found),
  };
}

const sentence = (text: string, ...figures: string[]): Sentence => ({ text, figures });

function sayVerdict(found: Found, normPer1000: number | undefined): Sentence[] {
  const { verdict, questions, rate, norm } = found;
  const sentences: Sentence[] = [];
  const [strongest] = questions
    .filter((question) => question.status !== 'none')
    .sort((a, b) => a.adjustedP - b.adjustedP);
  const key = strongest === undefined ? 'breaks' : `question-${strongest.id}-adjusted`;
  switch (verdict) {
    case 'no-breaks':
      return [sentence('There is not a single break in the table: nothing to judge.', 'breaks')];
    case 'real': {
      const better = strongest?.id === 'time' && found.time?.improving === true;
      sentences.push(
        sentence(better ? 'Real: it got better.' : 'Real, not chance.', key),
        sentence(
          `If nothing had ${better ? 'changed' : 'been the matter'}, counts would look like this ${sayOnceIn(strongest?.adjustedP ?? 1)}.`,
          key,
        ),
      );
      break;
    }
    case 'perhaps':
      sentences.push(
        sentence('Perhaps real.', key),
        sentence(
          `Something stands out, but with everything that was looked at, as much stands out ${sayOnceIn(strongest?.adjustedP ?? 1)} by chance alone.`,
          key,
        ),
      );
      break;
    case 'better':
      sentences.push(
        sentence('Nothing is wrong: fewer breaks than the norm, and nothing stands out.', 'norm-ratio'),
      );
      break;
    case 'nothing-shown':
      sentences.push(
        sentence(
          'Nothing beyond chance is seen: breaks are rare events, and counts of rare events scatter as these do.',
          'breaks',
        ),
      );
  }
  if (rate !== undefined) {
    const level = `${sayBreaks(rate.count)} in ${sayAbout(rate.rotorHours)} rotor-hours: ${say(rate.per1000)} per 1000`;
    const range = `the true figure may lie anywhere from ${say(rate.interval.lower)} to ${say(rate.interval.upper)}`;
    sentences.push(sentence(`${level}; ${range}.`, 'rate', 'rotor-hours'));
  } else sentences.push(sentence(`${sayBreaks(found.breaks)} were counted.`, 'breaks'));
  if (norm !== undefined && normPer1000 !== undefined) {
    const text =
      norm.verdict === 'above'
        ? `That is above the norm of ${say(normPer1000)}: ${sayTimes(norm.ratio, 'it allows', 'many')}.`
        : norm.verdict === 'below'
          ? `That is below the norm of ${say(normPer1000)}.`
          : `That is not shown to differ from the norm of ${say(normPer1000)}.`;
    sentences.push(sentence(text, 'norm-ratio', 'norm-p'));
  }
  return sentences;
}

const onFrame = (found: Found, frame: string) =>
  frame === '' || (found.places.length <= 1 && found.frames.length <= 1) ? '' : ` of frame ${frame}`;

function sayWhere(found: Found): Sentence[] {
  const { questions, places, frames } = found;
  const sentences: Sentence[] = [];
  const perhaps = (id: Question['id']) =>
    questions.find((question) => question.id === id)?.status === 'hinted' ? 'Perhaps: ' : '';
  const lower = (text: string, lead: string) =>
    lead === '' ? text : `${lead}${text.charAt(0).toLowerCase()}${text.slice(1)}`;

  for (const place of places)
    for (const section of place.sections)
      sentences.push(
        sentence(
          lower(
            `Positions ${section.first} to ${section.last}${onFrame(found, place.frame)} break together, ${sayTimes(section.ratioToRest, 'the rest of the frame')} (${section.count} where ${sayAbout(section.expected)} would be their share). They share something.`,
            perhaps('sections'),
          ),
          `frame-${place.frame}-section-${section.first}`,
        ),
      );
  for (const place of places) {
    if (place.flagged.length === 0) continue;
    const described = place.flagged.map((id) => describePosition(place, id));
    const many = described.length > 1;
    sentences.push(
      sentence(
        lower(
          `${many ? 'Positions' : 'Position'} ${sayNames(described)}${onFrame(found, place.frame)} ${many ? 'break' : 'breaks'} more than the others.`,
          perhaps('positions'),
        ),
        ...place.flagged.slice(0, 8).map((id) => `frame-${place.frame}-position-${id}`),
      ),
    );
  }
  if (places.some((place) => place.flagged.length > 0))
    sentences.push(
      sentence('Of ten positions named like this, about one is innocent.', 'question-positions'),
    );
  if (stands(questions, 'frames')) {
    const above = frames.filter((one) => one.verdict === 'above' && one.ratioToRest >= 1.2);
    for (const one of above.slice(0, 3))
      sentences.push(
        sentence(
          lower(
            `Frame ${one.id} breaks ${sayTimes(one.ratioToRest, 'the other frames')}.`,
            perhaps('frames'),
          ),
          `frame-rate-${one.id}`,
        ),
      );
  }
  if (stands(questions, 'day') && found.day !== undefined)
    sentences.push(
      sentence(
        lower(
          `Not so much a place as a time: ${found.day.worst} ends break ${sayTimes(found.day.worstRatio, 'otherwise')}.`,
          perhaps('day'),
        ),
        'day-ratio',
        'question-day',
      ),
    );
  if (sentences.length > 0) return sentences;
  if (places.length === 0)
    return [
      sentence(
        found.verdict === 'no-breaks'
          ? 'Nowhere.'
          : 'The table names no positions, so it cannot tell where on the frame.',
        'breaks',
      ),
    ];
  if (places.some((place) => place.judgedAgainstSpread))
    return [
      sentence(
        'The positions differ from one another somewhat more than chance, but none stands out from that, nor does a run of neighbours.',
        ...places.map((place) => `frame-${place.frame}-scatter`),
      ),
    ];
  const all = stands(questions, 'norm') ? ' So it is something that all positions share.' : '';
  return [
    sentence(
      `No position and no run of neighbours stands out: the breaks are spread as chance spreads them.${all}`,
      'question-positions',
      'question-sections',
    ),
  ];
}

function describePosition(place: FramePlaces, id: string): string {
  const position = place.positions.find((one) => one.id === id);
  if (position === undefined) return id;
  const expected = position.ratioToRest > 0 ? position.count / position.ratioToRest : 0;
  return `${id} (${sayBreaks(position.count)} where the others make ${sayAbout(expected)})`;
}

function saySince(found: Found): Sentence[] {
  const { time, timeOfFlagged, questions } = found;
  if (found.verdict === 'no-breaks') return [sentence('Nothing has begun.', 'breaks')];
  const main = time ?? timeOfFlagged;
  if (main === undefined)
    return [
      sentence(
        'The table has too few dates or breaks to tell since when. Count a week or more, with the day and shift of every count.',
        'breaks',
      ),
    ];
  const statusOf = (id: Question['id']) => questions.find((question) => question.id === id)?.status;
  const own =
    timeOfFlagged === undefined
      ? undefined
      : sayCourse(timeOfFlagged, found.hoursKnown, ' of the positions named', '');
  const all =
    time === undefined
      ? undefined
      : sayCourse(
          time,
          found.hoursKnown,
          own === undefined ? '' : ' of all positions',
          statusOf('time') === 'hinted' ? 'perhaps ' : '',
        );
  const placeFirst = statusOf('positions') === 'shown' || statusOf('sections') === 'shown';
  const sentences = (placeFirst ? [own, all] : [all, own]).filter((one) => one !== undefined);
  if (sentences.length === 0) {
    const last = main.periods.length - 1;
    sentences.push(
      sentence(
        `No beginning is seen: from ${labelOf(main, 0)} to ${labelOf(main, last)} the breaks neither rose nor fell more than chance lets them.`,
        'step',
        'drift',
      ),
    );
  }
  const { alarm } = found;
  if (alarm !== undefined) {
    const every =
      alarm.falseAlarmPeriods > 1000
        ? `it rings for nothing less than once in 1000 ${plural(alarm.unit)}`
        : `it rings for nothing about every ${sayAbout(alarm.falseAlarmPeriods)} ${plural(alarm.unit)}`;
    sentences.push(
      sentence(
        alarm.first === undefined
          ? `A running alarm against the norm, set for a rise by half, would not have rung (${every}).`
          : `A running alarm against the norm, set for a rise by half, would first have rung ${/day|week/.test(alarm.unit) ? 'on' : 'at'} ${alarm.first.label} (${every}).`,
        'alarm-false',
        'alarm-detection',
      ),
    );
  }
  return sentences.map((one) => ({ ...one, text: one.text.charAt(0).toUpperCase() + one.text.slice(1) }));
}

const plural = (unit: string) => (/\d/.test(unit) ? `periods of ${unit}` : `${unit}s`);

const labelOf = (time: TimeCourse, index: number) =>
  time.periods[Math.min(index, time.periods.length - 1)]?.label ?? '';

/** The course of all or of the named positions in one sentence; undefined when nothing is seen in it. */
function sayCourse(
  time: TimeCourse,
  hoursKnown: boolean,
  who: string,
  perhaps: string,
): Sentence | undefined {
  const label = (index: number) => labelOf(time, index);
  const rates = (before: number, after: number) =>
    hoursKnown
      ? `from ${say(before)} to ${say(after)} per 1000 rotor-hours`
      : `to ${say(after / before)} times what it was`;
  const mark = time.onlyFlagged ? 'flagged-' : '';
  const { step, spell } = time;
  if (time.onset === 'once' && spell !== undefined)
    return sentence(
      `${perhaps}a spell: ${spell.from === spell.to ? `on ${label(spell.from)}` : `from ${label(spell.from)} to ${label(spell.to)}`} the breaks${who} were ${sayTimes(spell.ratio, 'before and after', 'frequent')}.`,
      `${mark}spell`,
    );
  if (time.onset === 'sudden' && step !== undefined) {
    const from = label(step.interval.from);
    const to = label(step.interval.to);
    const range = from === to ? '' : ` (it may have been anywhere from ${from} to ${to})`;
    return sentence(
      `${perhaps}since about ${label(step.after)}${range}: the rate${who} rose at once, ${rates(step.ratePer1000Before, step.ratePer1000After)}.`,
      `${mark}step`,
    );
  }
  if (time.onset === 'creeping')
    return sentence(
      `${perhaps}bit by bit: the rate${who} has been rising from ${label(0)} to ${label(time.periods.length - 1)}, with no single moment at which it began.`,
      `${mark}drift`,
    );
  if (time.improving && step !== undefined)
    return sentence(
      `${perhaps}better since about ${label(step.after)}: the rate${who} fell, ${rates(step.ratePer1000Before, step.ratePer1000After)}.`,
      `${mark}step`,
      `${mark}drift`,
    );
  if (time.onset === 'ongoing')
    return sentence(
      'As long as the table goes back: it was above the norm from the start and did not change.',
      'step',
      'drift',
    );
  return undefined;
}

const SAFETY =
  'Open a position only when its rotor stands still: rotors run on after the stop and parts are hot. The machine’s manual and trained staff come first.';

function sayNext(found: Found): Sentence[] {
  const { questions, places, verdict, hoursKnown } = found;
  const began = found.implies.onset;
  const sentences: Sentence[] = [];
  if (verdict === 'no-breaks')
    return [sentence('Go on counting; look whether breaks were recorded at all.', 'breaks')];
  const sections = places.flatMap((place) => place.sections);
  const flagged = places.flatMap((place) => place.flagged.map((id) => ({ place, id })));
  if (sections.length > 0)
    sentences.push(
      sentence(
        'Look at what these neighbours share: drive and belt, suction duct, the cans and the way to them, the stretch that one cleaner or piecer serves.',
        'question-sections',
      ),
    );
  const aside =
    verdict === 'real' &&
    sections.length === 0 &&
    !questions.some((one) => one.id === 'positions' && one.status === 'shown');
  if (flagged.length > 0 && !aside) sentences.push(...sayVisit(flagged));
  if (sections.length > 0 && flagged.length === 0) sentences.push(sentence(SAFETY));
  if (began === 'sudden')
    sentences.push(
      sentence(
        'Ask what was changed on those days: lot, parts, settings, cleaning round, climate, people.',
        'step',
      ),
    );
  if (began === 'creeping')
    sentences.push(
      sentence(
        'Think of what wears or fills up: nozzles, inserts, grooves, ducts, filters, opening roller teeth.',
        'drift',
      ),
    );
  if (began === 'once')
    sentences.push(
      sentence(
        'It has passed. Ask what was special in that spell, and keep counting before anything is changed.',
        'spell',
      ),
    );
  if (stands(questions, 'day'))
    sentences.push(
      sentence(
        'Compare those hours with the others: room climate, cleaning times, who runs the frame, can changes.',
        'question-day',
      ),
    );
  const everywhere = sections.length === 0 && flagged.length === 0;
  if (everywhere && (stands(questions, 'norm') || stands(questions, 'frames')))
    sentences.push(
      sentence(
        'Look at what the whole frame shares: settings, lot, climate, suction, cleaning. Compare with frames that run the same lot.',
        stands(questions, 'norm') ? 'question-norm' : 'question-frames',
      ),
    );
  if (verdict === 'nothing-shown' || verdict === 'perhaps' || verdict === 'better') {
    if (verdict !== 'better')
      sentences.push(
        sentence(
          verdict === 'perhaps'
            ? 'Count the same again before parts are changed: what is real comes again at the same place.'
            : 'Change nothing because of these counts; go on counting.',
          'breaks',
        ),
      );
    const worst = everywhere ? worstOf(places) : undefined;
    if (worst !== undefined)
      sentences.push(
        sentence(
          `The worst position, ${worst.id}${onFrame(found, worst.frame)} with ${sayBreaks(worst.count)}, is as bad as the worst of ${worst.among} is by chance: left alone it would make about ${sayAbout(worst.next)} in the same time again.`,
          'worst-next',
        ),
      );
    const needs = found.needs.filter((need) => need.what === 'position' || verdict !== 'perhaps');
    for (const need of needs) {
      const amount = hoursKnown
        ? need.what === 'frame'
          ? `${sayAbout(need.hours)} rotor-hours in all`
          : `${sayAbout(need.hours)} hours of every position`
        : `about ${sayAbout(need.times)} times as long as now`;
      const aim =
        need.what === 'frame'
          ? 'that everything breaks half as often again as usual'
          : `a single position that breaks ${say(need.ratio)} times as often as the others`;
      sentences.push(
        sentence(
          need.times <= 1
            ? `Enough has been counted to notice ${aim}.`
            : `To notice ${aim}, count ${amount}${hoursKnown ? `, ${sayAbout(need.times)} times as much as so far` : ''}.`,
          `need-${need.what}`,
        ),
      );
    }
    if (found.norm === undefined && verdict === 'nothing-shown')
      sentences.push(
        sentence(
          'Whether everything is bad alike shows only against the usual rate: give the norm, or count a sister frame.',
          'breaks',
        ),
      );
  }
  if (flagged.length > 0 && aside)
    sentences.push(
      sentence(
        `When there is time, count ${flagged.length === 1 ? 'the position' : 'the positions'} named again before anything is done there.`,
        'question-positions',
      ),
    );
  if (verdict === 'real' || verdict === 'perhaps')
    sentences.push(
      sentence('Take the result to the diagnosis: it turns place, beginning and counts into likely causes.'),
    );
  return sentences;
}

/** What to do at positions that stand out, worst first. */
function sayVisit(flagged: readonly { readonly place: FramePlaces; readonly id: string }[]): Sentence[] {
  const sentences: Sentence[] = [];
  sentences.push(
    sentence(
      `Go to ${flagged.length === 1 ? 'this position' : 'these positions, the first named first,'} and look before anything is cleaned; then exchange one part at a time with a good neighbour and see whether the trouble goes along.`,
      'question-positions',
    ),
  );
  sentences.push(sentence(SAFETY));
  const [worst] = flagged;
  const next = worst?.place.nextCount[worst.id];
  const position = worst?.place.positions.find((one) => one.id === worst.id);
  if (worst !== undefined && next !== undefined && position !== undefined && next < 0.95 * position.count) {
    sentences.push(
      sentence(
        `Position ${worst.id} was picked because it was bad, and part of its count is bad luck: left alone it would make about ${sayAbout(next)} in the same time again rather than ${position.count}. Judge a repair by that, or count afresh before it.`,
        `frame-${worst.place.frame}-position-${worst.id}-next`,
      ),
    );
  }
  return sentences;
}
