import { describePageJourneys } from './page-journeys.js';

describePageJourneys('postgresql');
