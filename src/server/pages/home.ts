import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import type { ReadFrame } from '../../rules/knowledge/load-mill.js';
import type { HomePage } from '../../templates/models.js';
import { readState, stateOfCase, writeQuery } from '../bench-state.js';
import type { Site } from '../site.js';

/** The first page: pick a frame, an example, or start without either. */
export function homePages(site: Site): Hono {
  return new Hono().get('/', (c) => {
    const state = site.journal.peek();
    const own = state.kind === 'open' && !state.demo;
    const frames = [...site.mill.values()];
    return c.html(
      site.page(
        'home',
        { title: 'Peelpoint', section: 'bench' },
        {
          hint: own ? (frames.length === 0 ? say('home.none-yet') : say('home.own')) : say('home.demo'),
          addHref: own ? '/frames/new' : '',
          frames: frames.map((frame) => ({
            href: `/bench?frame=${frame.id}`,
            name: frame.name,
            place: frame.place,
            yarn: frame.yarn,
            note: frame.note,
          })),
          stories: frames.flatMap((frame) => viewStory(frame, site)),
        },
      ),
    );
  });
}

/** A ready example on its frame. Where the frame is set up otherwise by now, the example brings its own setup. */
function viewStory(frame: ReadFrame, site: Site): HomePage['stories'] {
  if (frame.story === undefined || frame.example === undefined) return [];
  const params = new URLSearchParams(writeQuery(stateOfCase(frame.example)));
  params.set('frame', frame.id);
  return [
    {
      href: `/bench${writeQuery(readState(params, site.mill))}`,
      title: frame.story.title,
      tells: `${frame.name}, ${inSentence(frame.yarn)}. ${frame.story.tells}`,
    },
  ];
}
