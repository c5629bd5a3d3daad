import type { Language } from '../../language/languages.js';
import { language } from '../../language/scope.js';
import {
  openTrainingRoom,
  type PracticeCase,
  type PracticeNumber,
  practiceCode,
  type TrainingRoom,
  type TrainingWork,
  workIn,
} from '../../rules/training/index.js';
import { needBook } from '../need-book.js';
import type { Site } from '../site.js';

/** The training room of a site, with the cases dealt last. */
export interface TrainingHall {
  /** For labels, lessons and the reading of cases; what weighs is asked of `work`. */
  readonly room: TrainingRoom;
  readonly work: TrainingWork;
  deal(number: PracticeNumber): Promise<PracticeCase>;
  /** A case under its name: the one made last, or a fresh one. */
  remember(code: string, make: () => Promise<PracticeCase>): Promise<PracticeCase>;
}

/** Dealt cases kept; a dealt case never changes while the knowledge stays. */
const KEPT = 60;

/** The parts of a site that training needs. */
export type TrainingSite = Pick<
  Site,
  'diagnostician' | 'knowledge' | 'vocabulary' | 'mill' | 'books' | 'page'
> &
  Partial<Pick<Site, 'training'>>;

const opened = new WeakMap<TrainingSite, () => TrainingHall>();

/** The training halls of a site, the same for its pages and its API, one a language; opened at the first use, since most visitors come for a diagnosis. */
export function trainingHall(site: TrainingSite): () => TrainingHall {
  const known = opened.get(site);
  if (known !== undefined) return known;
  const halls = new Map<Language, TrainingHall>();
  const ofSite = () => {
    const open = halls.get(language());
    if (open !== undefined) return open;
    const room = openTrainingRoom(site.diagnostician, needBook(site, 'training'));
    const work = site.training ?? workIn(room);
    const dealt = new Map<string, Promise<PracticeCase>>();
    const hall: TrainingHall = {
      room,
      work,
      deal: (number) => remember(practiceCode(number), () => work.deal(number)),
      remember,
    };
    halls.set(language(), hall);
    return hall;

    function remember(code: string, make: () => Promise<PracticeCase>): Promise<PracticeCase> {
      const known = dealt.get(code);
      if (known !== undefined) return known;
      const fresh = make();
      dealt.set(code, fresh);
      fresh.catch(() => dealt.delete(code));
      for (const oldest of dealt.keys()) {
        if (dealt.size <= KEPT) break;
        dealt.delete(oldest);
      }
      return fresh;
    }
  };
  opened.set(site, ofSite);
  return ofSite;
}
