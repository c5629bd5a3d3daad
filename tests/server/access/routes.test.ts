import { describe, expect, it } from 'vitest';
import { RIGHTS } from '../../../src/journal/index.js';
import { ruleFor, tableRoutes } from '../../../src/server/access/route-table.js';
import { testSite } from '../site.js';

/** Routes that answer, without the middleware before them. */
const registered = () => [
  ...new Set(
    testSite()
      .app.routes.filter((one) => !(one.method === 'ALL' && ['/*', '*', '/api/v1/*'].includes(one.path)))
      .map((one) => `${one.method} ${one.path}`),
  ),
];

describe('the table of routes', () => {
  it('has an entry for every route, and none for a route that is gone', () => {
    const routes = registered();
    expect(routes.length).toBeGreaterThan(100);
    const table = tableRoutes();
    expect(routes.filter((route) => !table.includes(route))).toEqual([]);
    expect(table.filter((route) => !routes.includes(route) && route !== 'ALL /api/v1/*')).toEqual([]);
    expect(new Set(table).size).toBe(table.length);
  });

  it('lets nobody change anything with a right to read, but where nothing is kept', () => {
    const computing = [
      'POST /bench',
      'POST /setup',
      'POST /case',
      'POST /counts/table',
      'POST /training/own-case',
      'POST /training/practice',
      'POST /api/v1/diagnose',
      'POST /api/v1/rank',
      'POST /api/v1/setup-report',
      'POST /api/v1/convert',
      'POST /language',
      // Under the own name.
      'POST /training/courses/:course{course-[0-9]+}/join',
      'POST /training/courses/:course{course-[0-9]+}/parts/:part{part-[0-9a-z-]+}/answers',
    ];
    const open = ['POST /sign-in', 'POST /set-password'];
    const own = ['POST /sign-out', 'POST /account/password', 'POST /account/sessions'];
    for (const route of registered().filter((one) => !one.startsWith('GET ') && !one.startsWith('ALL '))) {
      const [method = '', path = ''] = route.split(' ');
      const need = ruleFor(
        method,
        path
          .replace(/:step/, 'noted')
          .replace(/:\w+\{[^}]*\}/g, (part) => sample(part))
          .replace(/:\w+/g, 'x'),
      )?.need;
      if (open.includes(route)) expect(need, route).toBe('anybody');
      else if (own.includes(route)) expect(need, route).toBe('signed-in');
      else if (computing.includes(route)) expect(['read', 'anybody'], route).toContain(need);
      else
        expect(
          RIGHTS.filter((right) => right !== 'read'),
          route,
        ).toContain(need);
    }
  });

  it('takes the strictest rule that fits, and none for what is not there', () => {
    expect(ruleFor('GET', '/frames/new')?.need).toBe('mill');
    expect(ruleFor('GET', '/frames/frame-1')?.need).toBe('read');
    expect(ruleFor('HEAD', '/cases')?.need).toBe('read');
    expect(ruleFor('POST', '/cases/case-1/record/noted')?.need).toBe('cases');
    expect(ruleFor('POST', '/cases/case-1/record/reopened')?.need).toBe('corrections');
    expect(ruleFor('POST', '/api/v1/cases')?.need).toBe('cases');
    expect(ruleFor('DELETE', '/cases')).toBeUndefined();
    expect(ruleFor('GET', '/nowhere')).toBeUndefined();
    // Asked again, after many others, and by another way.
    for (let n = 0; n < 2100; n++) ruleFor('GET', `/frames/frame-${n}`);
    expect(ruleFor('GET', '/nowhere')).toBeUndefined();
    expect(ruleFor('GET', `/${'a'.repeat(300)}`)).toBeUndefined();
    expect(ruleFor('GET', '/cases/case-1/record/noted')?.need).toBe('cases');
    expect(ruleFor('GET', '/frames/frame-3')?.need).toBe('read');
    expect(ruleFor('POST', '/frames/frame-3')).toBeUndefined();
    expect(ruleFor('GET', '/cases.csv')?.export).toBe(true);
    expect(ruleFor('GET', '/cases')?.export).toBe(false);
  });
});

/** Something that fits `:id{case-[0-9]+}`. */
const sample = (part: string): string => {
  if (part.includes('course-')) return 'course-1';
  if (part.includes('part-')) return 'part-1';
  if (part.includes('own-')) return 'own-1';
  if (part.includes('case-')) return 'case-1';
  if (part.includes('complaint-')) return 'complaint-1';
  if (part.includes('photo-')) return 'photo-a1';
  if (part.includes('csv')) return 'a.csv';
  return '1';
};
