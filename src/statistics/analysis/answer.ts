import { say } from '../../language/say.js';
import { inSentence, sentenceCase } from '../../language/words.js';
import { sayNumber } from '../words.js';
import {
  sayAbout,
  sayBreaks,
  sayCompared,
  sayNames,
  sayOnceIn,
  sayTimes,
  sayUnits,
  yes,
} from './plain-words.js';
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
      return [sentence(say('count-answer.no-breaks'), 'breaks')];
    case 'real': {
      const better = strongest?.id === 'time' && found.time?.improving === true;
      sentences.push(
        sentence(better ? say('count-answer.better') : say('count-answer.real'), key),
        sentence(
          say('count-answer.if-nothing', {
            better: yes(better),
            times: sayOnceIn(strongest?.adjustedP ?? 1),
          }),
          key,
        ),
      );
      break;
    }
    case 'perhaps':
      sentences.push(
        sentence(say('count-answer.perhaps-real'), key),
        sentence(say('count-answer.something-stands', { times: sayOnceIn(strongest?.adjustedP ?? 1) }), key),
      );
      break;
    case 'better':
      sentences.push(sentence(say('count-answer.below-norm'), 'norm-ratio'));
      break;
    case 'nothing-shown':
      sentences.push(sentence(say('count-answer.chance-only'), 'breaks'));
  }
  if (rate !== undefined) {
    const text = say('count-answer.level', {
      breaks: sayBreaks(rate.count),
      hours: sayAbout(rate.rotorHours),
      rate: sayNumber(rate.per1000),
      low: sayNumber(rate.interval.lower),
      high: sayNumber(rate.interval.upper),
    });
    sentences.push(sentence(text, 'rate', 'rotor-hours'));
  } else sentences.push(sentence(say('count-answer.counted', { breaks: sayBreaks(found.breaks) }), 'breaks'));
  if (norm !== undefined && normPer1000 !== undefined) {
    const usual = sayNumber(normPer1000);
    const text =
      norm.verdict === 'above'
        ? say('count-answer.norm-above', {
            norm: usual,
            times: sayTimes(norm.ratio, sayCompared('allowed'), 'many'),
          })
        : norm.verdict === 'below'
          ? say('count-answer.norm-below', { norm: usual })
          : say('count-answer.norm-alike', { norm: usual });
    sentences.push(sentence(text, 'norm-ratio', 'norm-p'));
  }
  return sentences;
}

/** Names the frame where there are several. */
const onFrame = (found: Found, frame: string) => ({
  named: yes(frame !== '' && (found.places.length > 1 || found.frames.length > 1)),
  frame,
});

function sayWhere(found: Found): Sentence[] {
  const { questions, places, frames } = found;
  const sentences: Sentence[] = [];
  const perhaps = (id: Question['id'], text: string) =>
    questions.find((question) => question.id === id)?.status === 'hinted'
      ? say('count-answer.perhaps', { text: inSentence(text) })
      : text;

  for (const place of places)
    for (const section of place.sections)
      sentences.push(
        sentence(
          perhaps(
            'sections',
            say('count-answer.section', {
              first: section.first,
              last: section.last,
              ...onFrame(found, place.frame),
              times: sayTimes(section.ratioToRest, sayCompared('rest-of-frame')),
              count: String(section.count),
              expected: sayAbout(section.expected),
            }),
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
        perhaps(
          'positions',
          say('count-answer.positions', {
            many: yes(many),
            list: sayNames(described),
            ...onFrame(found, place.frame),
          }),
        ),
        ...place.flagged.slice(0, 8).map((id) => `frame-${place.frame}-position-${id}`),
      ),
    );
  }
  if (places.some((place) => place.flagged.length > 0))
    sentences.push(sentence(say('count-answer.innocent'), 'question-positions'));
  if (stands(questions, 'frames')) {
    const above = frames.filter((one) => one.verdict === 'above' && one.ratioToRest >= 1.2);
    for (const one of above.slice(0, 3))
      sentences.push(
        sentence(
          perhaps(
            'frames',
            say('count-answer.frame', {
              frame: one.id,
              times: sayTimes(one.ratioToRest, sayCompared('other-frames')),
            }),
          ),
          `frame-rate-${one.id}`,
        ),
      );
  }
  if (stands(questions, 'day') && found.day !== undefined)
    sentences.push(
      sentence(
        perhaps(
          'day',
          say('count-answer.a-time', {
            when: found.day.worst,
            times: sayTimes(found.day.worstRatio, sayCompared('otherwise')),
          }),
        ),
        'day-ratio',
        'question-day',
      ),
    );
  if (sentences.length > 0) return sentences;
  if (places.length === 0)
    return [
      sentence(
        found.verdict === 'no-breaks' ? say('count-answer.nowhere') : say('count-answer.no-positions'),
        'breaks',
      ),
    ];
  if (places.some((place) => place.judgedAgainstSpread))
    return [
      sentence(say('count-answer.some-spread'), ...places.map((place) => `frame-${place.frame}-scatter`)),
    ];
  return [
    sentence(
      say('count-answer.none-stands', { shared: yes(stands(questions, 'norm')) }),
      'question-positions',
      'question-sections',
    ),
  ];
}

function describePosition(place: FramePlaces, id: string): string {
  const position = place.positions.find((one) => one.id === id);
  if (position === undefined) return id;
  const expected = position.ratioToRest > 0 ? position.count / position.ratioToRest : 0;
  return say('count-answer.position', {
    id,
    breaks: sayBreaks(position.count),
    expected: sayAbout(expected),
  });
}

function saySince(found: Found): Sentence[] {
  const { time, timeOfFlagged, questions } = found;
  if (found.verdict === 'no-breaks') return [sentence(say('count-answer.nothing-begun'), 'breaks')];
  const main = time ?? timeOfFlagged;
  if (main === undefined) return [sentence(say('count-answer.too-few'), 'breaks')];
  const statusOf = (id: Question['id']) => questions.find((question) => question.id === id)?.status;
  const own =
    timeOfFlagged === undefined ? undefined : sayCourse(timeOfFlagged, found.hoursKnown, 'named', false);
  const all =
    time === undefined
      ? undefined
      : sayCourse(time, found.hoursKnown, own === undefined ? 'none' : 'all', statusOf('time') === 'hinted');
  const placeFirst = statusOf('positions') === 'shown' || statusOf('sections') === 'shown';
  const sentences = (placeFirst ? [own, all] : [all, own]).filter((one) => one !== undefined);
  if (sentences.length === 0) {
    const last = main.periods.length - 1;
    sentences.push(
      sentence(
        say('count-answer.no-beginning', { from: labelOf(main, 0), to: labelOf(main, last) }),
        'step',
        'drift',
      ),
    );
  }
  const { alarm } = found;
  if (alarm !== undefined) {
    const every =
      alarm.falseAlarmPeriods > 1000
        ? say('count-answer.alarm-rare', { units: sayUnits(alarm.unit) })
        : say('count-answer.alarm-every', {
            n: sayAbout(alarm.falseAlarmPeriods),
            units: sayUnits(alarm.unit),
          });
    sentences.push(
      sentence(
        alarm.first === undefined
          ? say('count-answer.alarm-silent', { every })
          : say('count-answer.alarm-rung', {
              day: yes(/day|week/.test(alarm.unit)),
              when: alarm.first.label,
              every,
            }),
        'alarm-false',
        'alarm-detection',
      ),
    );
  }
  return sentences.map((one) => ({ ...one, text: sentenceCase(one.text) }));
}

const labelOf = (time: TimeCourse, index: number) =>
  time.periods[Math.min(index, time.periods.length - 1)]?.label ?? '';

/** The course of all or of the named positions in one sentence; undefined when nothing is seen in it. */
function sayCourse(
  time: TimeCourse,
  hoursKnown: boolean,
  who: 'named' | 'all' | 'none',
  hinted: boolean,
): Sentence | undefined {
  const label = (index: number) => labelOf(time, index);
  const rates = (before: number, after: number) =>
    hoursKnown
      ? say('count-answer.from-to', { before: sayNumber(before), after: sayNumber(after) })
      : say('count-answer.to-times', { n: sayNumber(after / before) });
  const perhaps = yes(hinted);
  const mark = time.onlyFlagged ? 'flagged-' : '';
  const { step, spell } = time;
  if (time.onset === 'once' && spell !== undefined)
    return sentence(
      say('count-answer.spell', {
        perhaps,
        one: yes(spell.from === spell.to),
        from: label(spell.from),
        to: label(spell.to),
        who,
        times: sayTimes(spell.ratio, sayCompared('around'), 'frequent'),
      }),
      `${mark}spell`,
    );
  if (time.onset === 'sudden' && step !== undefined) {
    const from = label(step.interval.from);
    const to = label(step.interval.to);
    return sentence(
      say('count-answer.sudden', {
        perhaps,
        when: label(step.after),
        sure: yes(from === to),
        from,
        to,
        who,
        rates: rates(step.ratePer1000Before, step.ratePer1000After),
      }),
      `${mark}step`,
    );
  }
  if (time.onset === 'creeping')
    return sentence(
      say('count-answer.creeping', { perhaps, who, from: label(0), to: label(time.periods.length - 1) }),
      `${mark}drift`,
    );
  if (time.improving && step !== undefined)
    return sentence(
      say('count-answer.fell', {
        perhaps,
        when: label(step.after),
        who,
        rates: rates(step.ratePer1000Before, step.ratePer1000After),
      }),
      `${mark}step`,
      `${mark}drift`,
    );
  if (time.onset === 'ongoing') return sentence(say('count-answer.ongoing'), 'step', 'drift');
  return undefined;
}

function sayNext(found: Found): Sentence[] {
  const { questions, places, verdict, hoursKnown } = found;
  const began = found.implies.onset;
  const sentences: Sentence[] = [];
  if (verdict === 'no-breaks') return [sentence(say('count-answer.go-on'), 'breaks')];
  const sections = places.flatMap((place) => place.sections);
  const flagged = places.flatMap((place) => place.flagged.map((id) => ({ place, id })));
  if (sections.length > 0) sentences.push(sentence(say('count-answer.look-shared'), 'question-sections'));
  const aside =
    verdict === 'real' &&
    sections.length === 0 &&
    !questions.some((one) => one.id === 'positions' && one.status === 'shown');
  if (flagged.length > 0 && !aside) sentences.push(...sayVisit(flagged));
  if (sections.length > 0 && flagged.length === 0) sentences.push(sentence(say('count-answer.safety')));
  if (began === 'sudden') sentences.push(sentence(say('count-answer.ask-changed'), 'step'));
  if (began === 'creeping') sentences.push(sentence(say('count-answer.think-wear'), 'drift'));
  if (began === 'once') sentences.push(sentence(say('count-answer.passed'), 'spell'));
  if (stands(questions, 'day')) sentences.push(sentence(say('count-answer.compare-hours'), 'question-day'));
  const everywhere = sections.length === 0 && flagged.length === 0;
  if (everywhere && (stands(questions, 'norm') || stands(questions, 'frames')))
    sentences.push(
      sentence(
        say('count-answer.whole-frame'),
        stands(questions, 'norm') ? 'question-norm' : 'question-frames',
      ),
    );
  if (verdict === 'nothing-shown' || verdict === 'perhaps' || verdict === 'better') {
    if (verdict !== 'better')
      sentences.push(
        sentence(
          verdict === 'perhaps' ? say('count-answer.count-again') : say('count-answer.change-nothing'),
          'breaks',
        ),
      );
    const worst = everywhere ? worstOf(places) : undefined;
    if (worst !== undefined)
      sentences.push(
        sentence(
          say('count-answer.worst', {
            id: worst.id,
            ...onFrame(found, worst.frame),
            breaks: sayBreaks(worst.count),
            among: String(worst.among),
            next: sayAbout(worst.next),
          }),
          'worst-next',
        ),
      );
    const needs = found.needs.filter((need) => need.what === 'position' || verdict !== 'perhaps');
    for (const need of needs) {
      const amount = hoursKnown
        ? need.what === 'frame'
          ? say('count-answer.hours-in-all', { n: sayAbout(need.hours) })
          : say('count-answer.hours-each', { n: sayAbout(need.hours) })
        : say('count-answer.times-now', { n: sayAbout(need.times) });
      const aim =
        need.what === 'frame'
          ? say('count-answer.aim-frame')
          : say('count-answer.aim-position', { n: sayNumber(need.ratio) });
      sentences.push(
        sentence(
          need.times <= 1
            ? say('count-answer.enough', { aim })
            : say('count-answer.to-notice', {
                aim,
                amount,
                known: yes(hoursKnown),
                n: sayAbout(need.times),
              }),
          `need-${need.what}`,
        ),
      );
    }
    if (found.norm === undefined && verdict === 'nothing-shown')
      sentences.push(sentence(say('count-answer.give-norm'), 'breaks'));
  }
  if (flagged.length > 0 && aside)
    sentences.push(
      sentence(say('count-answer.aside', { one: yes(flagged.length === 1) }), 'question-positions'),
    );
  if (verdict === 'real' || verdict === 'perhaps') sentences.push(sentence(say('count-answer.to-diagnosis')));
  return sentences;
}

/** What to do at positions that stand out, worst first. */
function sayVisit(flagged: readonly { readonly place: FramePlaces; readonly id: string }[]): Sentence[] {
  const sentences: Sentence[] = [];
  sentences.push(
    sentence(say('count-answer.visit', { one: yes(flagged.length === 1) }), 'question-positions'),
  );
  sentences.push(sentence(say('count-answer.safety')));
  const [worst] = flagged;
  const next = worst?.place.nextCount[worst.id];
  const position = worst?.place.positions.find((one) => one.id === worst.id);
  if (worst !== undefined && next !== undefined && position !== undefined && next < 0.95 * position.count) {
    sentences.push(
      sentence(
        say('count-answer.picked', {
          id: worst.id,
          next: sayAbout(next),
          count: String(position.count),
        }),
        `frame-${worst.place.frame}-position-${worst.id}-next`,
      ),
    );
  }
  return sentences;
}
