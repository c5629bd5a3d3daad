import { say } from '../../../language/say.js';
import type { Link } from '../../../templates/models.js';
import { mayOpen, signedIn } from '../../access/requester.js';

const places = (): readonly Link[] => [
  { href: '/accounts', text: say('access.accounts') },
  { href: '/tokens', text: say('access.tokens') },
  { href: '/audit', text: say('access.audit-log') },
];

/** The pages of administrators that are open to whoever asks. */
export const accessLinks = (): Link[] => places().filter((link) => mayOpen(link.href));

/** Who is signed in, for the top of every page. */
export function viewPerson(): { readonly name: string; readonly links: readonly Link[] } | undefined {
  const person = signedIn();
  return person === undefined ? undefined : { name: person.shown, links: accessLinks() };
}
