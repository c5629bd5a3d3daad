import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { RuleBook } from '../../rules/knowledge/knowledge-base.js';
import type { Action, Basis, Cause, Check, Link, Mechanism, Symptom } from '../../rules/knowledge/schema.js';
import { FAMILIES, STRENGTHS, WEIGHTS } from '../../rules/knowledge/vocabulary.js';
import { STOP_WORDS } from '../../rules/words.js';
import { minutes, percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';
import { cautionNames, cautionTexts, writeCautions } from '../sections/cautions.js';
import { sayCondition } from './condition-words.js';
import type { Entry } from './entries.js';

const ITEM = { first: '  · ', rest: '    ' };

/** Lays out one entry of the knowledge base. */
export function writeEntry(page: Page, entry: Entry, knowledge: Knowledge): void {
  page.strong(`${'label' in entry.entry ? entry.entry.label : entry.id} – ${entry.kind} ${entry.id}`);
  switch (entry.kind) {
    case 'cause':
      writeCause(page, entry.entry, knowledge);
      return;
    case 'symptom':
      writeSymptom(page, entry.entry, knowledge.book);
      return;
    case 'check':
      writeCheck(page, entry.entry, knowledge);
      return;
    case 'action':
      writeAction(page, entry.entry, knowledge);
      return;
    case 'mechanism':
      writeMechanism(page, entry.entry, knowledge.book);
      return;
    case 'caution':
      page.text(entry.entry.text);
      if (entry.entry.when !== undefined) page.text(`Raised when: ${sayCondition(entry.entry.when)}.`);
      return;
    case 'source':
      page.text(entry.entry.cite);
      if (entry.entry.address !== undefined) page.text(entry.entry.address);
      page.text(entry.entry.seen === 'read' ? 'Read.' : 'From memory: never shown as a citation.');
      if (entry.entry.note !== undefined) page.text(entry.entry.note);
      return;
    case 'fibre':
      page.text('Its values with spreads and sources: --json.');
      return;
    case 'end use':
      page.text(`What counts: ${entry.entry.matters.join('; ')}.`);
      for (const limit of entry.entry.limits) {
        const bounds = [
          limit.least === undefined ? '' : `not below ${limit.least} %`,
          limit.most === undefined ? '' : `not above +${limit.most} %`,
        ].filter((part) => part !== '');
        page.text(`${limit.on}: ${bounds.join(', ')} against the usual. ${limit.because}`, ITEM);
      }
      page.text('Its usual setup with spreads and sources: --json.');
      return;
  }
}

function writeCause(page: Page, cause: Cause, { book }: Knowledge): void {
  page.text(`${FAMILIES[cause.family]}; a ${cause.kind} cause.`);
  page.line();
  page.text(cause.what);
  page.heading('How likely before anything is known');
  page.text(
    `Found on ${(100 * cause.prior.base).toPrecision(2)} % of frames in trouble ${sayBasis(cause.prior.basis, book)}.`,
    '  ',
  );
  const { model } = cause.prior;
  if (model !== undefined)
    page.text(`The model adds: margin "${model.margin}" negative, but for ${model['but-for']}.`, '  ');
  page.text(`Shows: ${profile(cause.scope)}.`, '  ');
  page.text(`Begins: ${profile(cause.onset)}.`, '  ');
  if (cause.after !== undefined)
    page.text(
      `Follows a change of: ${Object.entries(cause.after)
        .map(([change, weight]) => `${change} (${weight})`)
        .join(', ')}.`,
      '  ',
    );
  if (cause['ruled-out'] !== undefined) page.heading('Ruled out when');
  for (const out of cause['ruled-out'] ?? [])
    page.text(`${sayCondition(out.when)}: ${out.because} ${sayBasis(out.basis, book)}`, ITEM);
  if (cause['leads-to'].length > 0) page.heading('Leads to');
  writeLinks(page, cause['leads-to'], book);
  if (cause.rules !== undefined) page.heading('Rules');
  for (const rule of cause.rules ?? []) {
    const [word, weight] = rule.for === undefined ? ['against', rule.against] : ['for', rule.for];
    const size = weight === undefined ? '' : ` (×${WEIGHTS[weight]})`;
    page.text(
      `${weight} ${word} it${size} when ${sayCondition(rule.when)}: ${rule.because} ${sayBasis(rule.basis, book)}`,
      ITEM,
    );
  }
  page.heading('What to do about it');
  page.text(`Tracing it takes about ${minutes(cause['trace-minutes'])}.`, '  ');
  for (const id of cause.checks) page.text(`check: ${book.checks.get(id)?.label ?? id} [${id}]`, ITEM);
  for (const { do: id, cures, note } of cause.actions)
    page.text(
      `action: ${book.actions.get(id)?.label ?? id} [${id}], cures ${percent(cures)}${note === undefined ? '' : `; ${note}`}`,
      ITEM,
    );
  if (cause['look-alikes'] !== undefined) page.heading('Looks alike');
  for (const one of cause['look-alikes'] ?? [])
    page.text(`${book.causes.get(one.cause)?.label ?? one.cause}: ${one['told-apart-by']}`, ITEM);
  if (cause.cautions !== undefined) {
    page.line();
    page.text(`Take care: ${cautionNames(cause.cautions)}.`);
  }
  if (cause.examples !== undefined) page.heading('Examples');
  for (const example of cause.examples ?? []) page.text(`${example.name}: expect ${example.expect}`, ITEM);
}

function writeSymptom(page: Page, symptom: Symptom, book: RuleBook): void {
  page.text(symptom.look);
  page.text(
    `Seen with none of the listed causes behind it: ${percent(symptom.leak)}, markedly ${percent(symptom['leak-marked'])} ${sayBasis(symptom.basis, book)}.`,
  );
  const parents = parentsOf(symptom.id, book);
  if (parents.length > 0) page.heading('Brought about by');
  for (const parent of parents) page.text(parent, ITEM);
  if (symptom['leads-to'] !== undefined) page.heading('Leads to');
  writeLinks(page, symptom['leads-to'] ?? [], book);
}

function writeCheck(page: Page, check: Check, knowledge: Knowledge): void {
  page.text(check.ask);
  const waiting = check['waiting-minutes'];
  page.text(
    `Takes ${minutes(check.minutes)}${waiting === undefined ? '' : ` and ${minutes(waiting)} of waiting`}; ${STOP_WORDS[check.stops]}; by: ${check.who} ${sayBasis(check.basis, knowledge.book)}.`,
  );
  if (check['not-when'] !== undefined) page.text(`Makes no sense when ${sayCondition(check['not-when'])}.`);
  writeCautions(page, cautionTexts(check.cautions ?? [], knowledge));
  page.heading('How');
  page.steps(check.how, '  ');
  page.heading('Outcomes');
  for (const [id, outcome] of Object.entries(check.outcomes)) {
    page.text(`${outcome.label} [${id}], ${outcome.means}`, ITEM);
    for (const parent of parentsOf(`${check.id}:${id}`, knowledge.book))
      page.faint(`from ${parent}`, { first: '      ', rest: '        ' });
  }
}

function writeAction(page: Page, action: Action, knowledge: Knowledge): void {
  page.text(
    `Takes ${minutes(action.minutes)} for each ${action.per}; ${STOP_WORDS[action.stops]}; by: ${action.who}; cost: ${action.cost} ${sayBasis(action.basis, knowledge.book)}.`,
  );
  if (action.parts !== undefined) page.text(`Parts: ${action.parts}.`);
  for (const no of action['not-when'] ?? []) page.text(`Not when ${sayCondition(no.when)}: ${no.because}`);
  writeCautions(page, cautionTexts(action.cautions, knowledge));
  page.heading('Steps');
  page.steps(action.steps, '  ');
  if (action['side-effects'] !== undefined) page.heading('Side effects');
  for (const effect of action['side-effects'] ?? [])
    page.text(`${effect.on} ${effect.direction}: ${effect.why}`, ITEM);
  page.line();
  page.text(`It has worked when: ${action.proof}`);
  page.text(`To go back: ${action['go-back']}`);
  const cured = [...knowledge.book.causes.values()].filter((cause) =>
    cause.actions.some((one) => one.do === action.id),
  );
  if (cured.length > 0) page.heading('Against');
  for (const cause of cured) page.text(`${cause.label} [${cause.id}]`, ITEM);
}

function writeMechanism(page: Page, mechanism: Mechanism, book: RuleBook): void {
  page.text(mechanism.plain);
  for (const [state, body] of Object.entries(mechanism.states)) {
    page.heading(`${body.label} [${mechanism.id}:${state}]`);
    for (const parent of parentsOf(`${mechanism.id}:${state}`, book)) page.text(`from ${parent}`, ITEM);
    writeLinks(page, body['leads-to'], book);
  }
}

function writeLinks(page: Page, links: readonly Link[], book: RuleBook): void {
  for (const link of links) {
    const only = link['only-if'] === undefined ? '' : ` Only if ${sayCondition(link['only-if'])}.`;
    const unless = link.unless === undefined ? '' : ` Not if ${sayCondition(link.unless)}.`;
    page.text(
      `→ ${nodeLabel(link.to, book)} [${link.to}], ${link.strength} (${percent(STRENGTHS[link.strength])}): ${link.why}${only}${unless} ${sayBasis(link.basis, book)}`,
      ITEM,
    );
  }
}

/** What leads to a node, with the strength of each link. */
function parentsOf(node: string, book: RuleBook): string[] {
  const parents = [
    ...[...book.causes.values()].map((cause) => [cause.label, cause.id, cause['leads-to']] as const),
    ...[...book.mechanisms.values()].flatMap((mechanism) =>
      Object.entries(mechanism.states).map(
        ([state, body]) => [body.label, `${mechanism.id}:${state}`, body['leads-to']] as const,
      ),
    ),
    ...[...book.symptoms.values()].map((one) => [one.label, one.id, one['leads-to'] ?? []] as const),
  ];
  return parents.flatMap(([label, id, links]) =>
    links.filter((link) => link.to === node).map((link) => `${label} [${id}], ${link.strength}`),
  );
}

function nodeLabel(node: string, book: RuleBook): string {
  const [head = '', state] = node.split(':');
  if (state === undefined) return book.symptoms.get(head)?.label ?? node;
  const mechanism = book.mechanisms.get(head)?.states[state]?.label;
  const check = book.checks.get(head);
  return (
    mechanism ?? (check === undefined ? node : `${check.label}: ${check.outcomes[state]?.label ?? state}`)
  );
}

function profile(shares: Readonly<Record<string, number | undefined>>): string {
  return Object.entries(shares)
    .sort(([, a], [, b]) => (b ?? 0) - (a ?? 0))
    .map(([word, share]) => `${word} ${percent(share ?? 0)}`)
    .join(', ');
}

/** `(judgement)`, `(published: …)`; only what was read is cited. */
function sayBasis(basis: Basis, book: RuleBook): string {
  const source = basis.source === undefined ? undefined : book.sources.get(basis.source);
  return source?.seen === 'read' ? `(${basis.standing}: ${source.cite})` : `(${basis.standing})`;
}
