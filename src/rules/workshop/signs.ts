import { buildCausalGraph } from '../diagnosis/causal-graph.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { PublishedRecord } from './published-record.js';
import { graphSign, type Intervention, interventions } from './sign-graph.js';
import { type ModelSign, modelSign, referenceSetup, searchedSign } from './sign-model.js';
import { type SignResponse, signResponse } from './sign-responses.js';
import { type SettingEnd, type SignSetting, signSetting } from './sign-settings.js';

/** What the product says: a direction, an optimum between, no change worth speaking of, or nothing. */
export type ProductSign = PublishedRecord['direction'] | 'silent';

/** The product's word on a published record. */
export interface SignVerdict {
  readonly record: PublishedRecord;
  readonly product: ProductSign;
  /** Who speaks. */
  readonly by: 'model' | 'graph' | 'nobody';
  readonly verdict: 'agree' | 'disagree' | 'silent';
  /** Size of what the product says, or why it is silent. */
  readonly why: string;
}

/** Verdicts counted for one setting, or for all. */
export interface SignTotals {
  readonly setting: string;
  readonly agree: number;
  readonly disagree: number;
  readonly silent: number;
}

/** A change of a computed quantity below this is what a study calls no effect, percent. */
const NO_EFFECT_PERCENT = 3;

/**
 * Holds published directions against the product. The record's setting is moved on the usual setup for its fibre and
 * count; if the spinning model computes the response and it moves, the model speaks; else the graph, by what being too
 * low or too high with that setting does to the symptom; else nobody.
 */
export function predictSigns(knowledge: Knowledge, records: readonly PublishedRecord[]): SignVerdict[] {
  const { 'marked-share': marked } = knowledge.judgements;
  const probability = interventions(buildCausalGraph(knowledge.book, marked, 1));
  return records.map((record) => {
    const said = predict(record, knowledge, probability);
    return { record, ...said, verdict: judge(record.direction, said.product) };
  });
}

/** Verdicts by setting, most disagreements first, and over all. */
export function countSigns(verdicts: readonly SignVerdict[]): {
  readonly settings: readonly SignTotals[];
  readonly all: SignTotals;
} {
  const count = (setting: string, some: readonly SignVerdict[]): SignTotals => ({
    setting,
    agree: some.filter((one) => one.verdict === 'agree').length,
    disagree: some.filter((one) => one.verdict === 'disagree').length,
    silent: some.filter((one) => one.verdict === 'silent').length,
  });
  const settings = [...new Set(verdicts.map((one) => one.record.setting))].map((setting) =>
    count(
      setting,
      verdicts.filter((one) => one.record.setting === setting),
    ),
  );
  return {
    settings: settings.sort((a, b) => b.disagree - a.disagree || a.setting.localeCompare(b.setting)),
    all: count('all', verdicts),
  };
}

type Said = Pick<SignVerdict, 'product' | 'by' | 'why'>;
const silent = (why: string): Said => ({ product: 'silent', by: 'nobody', why });

function predict(record: PublishedRecord, knowledge: Knowledge, probability: Intervention): Said {
  const setting = signSetting(record.setting, record.from, record.to);
  if (setting === undefined) return silent('the product has no such setting');
  const response = signResponse(record.response, record.setting);
  if (response === undefined) return silent('the product says nothing of this response');
  const from = setting.read(record.from);
  const to = setting.read(record.to);
  if (from === undefined || to === undefined) return silent('the levels are not ones the product knows');
  return (
    askModel(record, setting, response, from, to, knowledge) ??
    askGraph(record, setting, response, from, to, probability) ??
    silent('neither model nor graph moves it')
  );
}

function askModel(
  record: PublishedRecord,
  { apply }: SignSetting,
  response: SignResponse,
  from: SettingEnd,
  to: SettingEnd,
  knowledge: Knowledge,
): Said | undefined {
  if (apply === undefined) return undefined;
  const reference = referenceSetup(knowledge, record.fibre, record.count_tex);
  // Where an optimum is claimed the whole range is meant, so the ends are taken farther out.
  const reach = record.direction === 'optimum' ? 2.5 : 1;
  const far = (end: SettingEnd): SettingEnd =>
    end.value === undefined ? { level: (end.level * reach) as SettingEnd['level'] } : end;
  const before = apply(reference, far(from));
  const after = apply(reference, far(to));
  const signs: [ModelSign, 1 | -1][] = [];
  if (response.search !== undefined)
    signs.push([searchedSign(response.search, before, after, knowledge.parameters), 1]);
  for (const [field, direction] of response.model ?? [])
    signs.push([modelSign(field, before, after, knowledge.parameters), direction]);
  const moving = signs.filter(([one]) => one.sign !== 0 || one.peakBetween);
  const [first] = moving;
  if (first === undefined) return undefined;
  const signed = ([one, direction]: [ModelSign, 1 | -1]) => one.sign * direction;
  if (response.verdict && moving.some((one) => signed(one) !== signed(first)))
    return silent('the model moves several qualities, not all one way');
  const [sign] = first;
  const size = signed(first);
  const why = `${sign.changePercent > 0 ? '+' : ''}${sign.changePercent.toPrecision(2)} %`;
  if (sign.peakBetween && record.direction === 'optimum')
    return { product: 'optimum', by: 'model', why: 'turns between the ends' };
  if (record.direction === 'none' && Math.abs(sign.changePercent) < NO_EFFECT_PERCENT)
    return { product: 'none', by: 'model', why };
  // Margins of the model know coordination alone; whether a change has a best middle the graph may know.
  if (size === 0) return undefined;
  if (record.direction === 'optimum' && record.response !== 'minimum_twist') return undefined;
  return { product: size > 0 ? 'up' : 'down', by: 'model', why };
}

function askGraph(
  record: PublishedRecord,
  setting: SignSetting,
  response: SignResponse,
  from: SettingEnd,
  to: SettingEnd,
  probability: Intervention,
): Said | undefined {
  const { graph } = response;
  if (graph === undefined || setting.low.length + setting.high.length === 0) return undefined;
  // An optimum is a statement about both sides, whichever ends the record names.
  const [low, high] =
    record.direction === 'optimum'
      ? [{ level: -1 } as const, { level: 1 } as const]
      : orderedLevels(from, to);
  const { sign, change, optimum, bothWays } = graphSign(graph, setting, low, high, probability);
  const bothWhy = 'too low and too high both bring it';
  if (optimum && record.direction === 'optimum') return { product: 'optimum', by: 'graph', why: bothWhy };
  if (bothWays) return silent(bothWhy);
  if (sign === 0) return undefined;
  // The graph says what happens where a setting is wrong; a study of the ordinary range may well see nothing.
  if (record.direction === 'none')
    return silent('the graph speaks of wrong settings, not of the ordinary range');
  const why = `${change > 0 ? '+' : ''}${(100 * change).toFixed(0)} points of probability`;
  return { product: sign > 0 ? 'up' : 'down', by: 'graph', why };
}

/** Two numbers without words are levels too: the smaller one is low against the larger. */
function orderedLevels(from: SettingEnd, to: SettingEnd): [SettingEnd, SettingEnd] {
  if (from.level !== to.level || from.value === undefined || to.value === undefined) return [from, to];
  const rising = Math.abs(to.value) > Math.abs(from.value);
  return rising ? [{ level: -1 }, { level: 1 }] : [{ level: 1 }, { level: -1 }];
}

function judge(published: PublishedRecord['direction'], product: ProductSign): SignVerdict['verdict'] {
  if (product === 'silent') return 'silent';
  return product === published ? 'agree' : 'disagree';
}
