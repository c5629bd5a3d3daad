import { say } from '../../language/say.js';
import type { LessonPage } from '../../templates/training-models.js';
import { newKey } from '../journal/desk.js';
import { courseHref } from './course-words.js';

/** A lesson's page as it stands in a course: answers are judged once they are handed in. */
export function placeLesson(page: LessonPage, params: URLSearchParams): LessonPage {
  const course = params.get('course') ?? '';
  const part = params.get('part') ?? '';
  if (!/^course-[0-9]{1,9}$/.test(course) || !/^part-[a-z0-9-]{1,40}$/.test(part)) return page;
  const place = [
    { name: 'course', value: course },
    { name: 'part', value: part },
  ];
  const handed = params.get('handed') === 'yes';
  const missing = params.get('missing') === 'yes';
  return {
    ...page,
    play: { ...page.play, hidden: [...page.play.hidden, ...place] },
    questions: handed ? page.questions : page.questions.map((one) => ({ ...one, verdict: '', why: '' })),
    questionHidden: [{ name: 'key', value: newKey() }],
    questionForm: {
      method: 'post',
      action: courseHref(course, `/parts/${part}/answers`),
      submit: handed ? say('lesson.again') : say('lesson.hand-in'),
    },
    score: handed ? say('lesson.handed', { score: page.score }) : missing ? say('lesson.missing') : '',
    back: { href: courseHref(course), text: say('lesson.course') },
    next: undefined,
  };
}
