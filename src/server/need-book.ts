import { type Books, filesOfBook } from '../rules/books.js';
import type { Site } from './site.js';

/** A page needs a book that the knowledge base in use does not have. */
export class MissingBook extends Error {
  constructor(book: keyof Books) {
    super(
      `The knowledge base in use has nothing to make this page from: it lacks ${filesOfBook(book)}. Add it to its folder; the page is there as soon as the files are good.`,
    );
    this.name = 'MissingBook';
  }
}

/** A book of the knowledge base in use. @throws MissingBook */
export function needBook<Name extends keyof Books>(
  site: Pick<Site, 'books'>,
  name: Name,
): NonNullable<Books[Name]> {
  const book = site.books()[name];
  if (book === undefined) throw new MissingBook(name);
  return book as NonNullable<Books[Name]>;
}
