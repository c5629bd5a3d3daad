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
}

/** Dealt cases kept; a dealt case never changes while the knowledge stays. */
const KEPT = 60;

/** The parts of a site that training needs. */
export type TrainingSite = Pick<
  Site,
  'diagnostician' | 'knowledge' | 'vocabulary' | 'mill' | 'books' | 'page'
> &
  Partial<Pick<Site, 'training'>>;

/** Makes the training halls of a site, one a language; opened at the first use, since most visitors come for a diagnosis. */
export function trainingHall(site: TrainingSite): () => TrainingHall {
  const halls = new Map<Language, TrainingHall>();
  return () => {
    const open = halls.get(language());
    if (open !== undefined) return open;
    const room = openTrainingRoom(site.diagnostician, needBook(site, 'training'));
    const work = site.training ?? workIn(room);
    const dealt = new Map<string, Promise<PracticeCase>>();
    const hall: TrainingHall = {
      room,
      work,
      deal(number) {
        const code = practiceCode(number);
        const known = dealt.get(code);
        if (known !== undefined) return known;
        const fresh = work.deal(number);
        dealt.set(code, fresh);
        fresh.catch(() => dealt.delete(code));
        for (const oldest of dealt.keys()) {
          if (dealt.size <= KEPT) break;
          dealt.delete(oldest);
        }
        return fresh;
      },
    };
    halls.set(language(), hall);
    return hall;
  };
}
