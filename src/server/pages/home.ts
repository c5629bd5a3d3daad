import { Hono } from 'hono';
import { stateOfCase, writeQuery } from '../bench-state.js';
import type { Site } from '../site.js';

/** The first page: pick a frame, an example, or start without either. */
export function homePages(site: Site): Hono {
  const frames = [...site.mill.values()].map((frame) => ({
    href: `/bench?frame=${frame.id}`,
    name: frame.name,
    place: frame.place,
    yarn: frame.yarn,
    note: frame.note,
  }));
  const stories = [...site.mill.values()].flatMap((frame) => {
    if (frame.story === undefined || frame.example === undefined) return [];
    // The example's own setup is the frame's card, so only what the story adds goes into the address.
    const fields = new Map(
      [...stateOfCase(frame.example).fields].filter(([name]) => !name.startsWith('setup.')),
    );
    return [
      {
        href: `/bench${writeQuery({ frame, fields, later: [] })}`,
        title: frame.story.title,
        tells: `${frame.name}, ${frame.yarn.charAt(0).toLowerCase()}${frame.yarn.slice(1)}. ${frame.story.tells}`,
      },
    ];
  });
  return new Hono().get('/', (c) =>
    c.html(site.page('home', { title: 'Peelpoint', section: 'bench' }, { frames, stories })),
  );
}
