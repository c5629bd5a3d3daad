import { fileURLToPath } from 'node:url';
import { crossCheck } from '../rules/knowledge/cross-check.js';
import { describeProblem } from '../rules/knowledge/errors.js';
import { openReader, readRuleBook } from '../rules/knowledge/load.js';

const root = process.argv[2] ?? fileURLToPath(new URL('../../knowledge-base', import.meta.url));
const reader = openReader(root);
const book = readRuleBook(reader);
const problems = [...reader.problems, ...crossCheck(book)];
for (const problem of problems) console.error(describeProblem(problem));
console.log(
  `${book.causes.size} causes, ${book.mechanisms.size} mechanisms, ${book.symptoms.size} symptoms, ${book.checks.size} checks, ${book.actions.size} actions: ${problems.length} problems`,
);
if (problems.length > 0) process.exitCode = 1;
