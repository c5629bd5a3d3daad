import type { Link } from '../../../templates/models.js';
import { mayOpen, signedIn } from '../../access/requester.js';

const PLACES: readonly Link[] = [
  { href: '/accounts', text: 'Accounts' },
  { href: '/tokens', text: 'Tokens' },
  { href: '/audit', text: 'Audit log' },
];

/** The pages of administrators that are open to whoever asks. */
export const accessLinks = (): Link[] => PLACES.filter((link) => mayOpen(link.href));

/** Who is signed in, for the top of every page. */
export function viewPerson(): { readonly name: string; readonly links: readonly Link[] } | undefined {
  const person = signedIn();
  return person === undefined ? undefined : { name: person.shown, links: accessLinks() };
}
