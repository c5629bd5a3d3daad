import { Hono } from 'hono';
import type { Site } from '../../site.js';
import { caseDiagnosisPages } from './case-diagnoses.js';
import { caseRecordPages } from './case-record.js';
import { caseReportPages } from './case-report.js';
import { casePages } from './cases.js';
import { complaintLetterPages } from './complaint-letter.js';
import { complaintListPages } from './complaint-list.js';
import { complaintPhotoPages } from './complaint-photos.js';
import { complaintRecordPages } from './complaint-record.js';
import { framePages } from './frames.js';
import { knowledgeVersionPages } from './knowledge-versions.js';
import { learningPages } from './learning.js';
import { millRecordPages } from './mill-records.js';
import { millSettingsPages } from './mill-settings.js';
import { openCasePages } from './open-case.js';
import { journalPages } from './overview.js';
import { partsPages } from './parts.js';
import { qualityPages } from './quality.js';
import { recordSetupPages } from './record-setup.js';

/** Every page of the journal. Fixed addresses come before those with an id in them. */
export function allJournalPages(site: Site): Hono {
  const app = new Hono();
  for (const pages of [
    journalPages,
    millRecordPages,
    framePages,
    recordSetupPages,
    openCasePages,
    casePages,
    caseRecordPages,
    caseDiagnosisPages,
    caseReportPages,
    complaintListPages,
    complaintRecordPages,
    complaintPhotoPages,
    complaintLetterPages,
    qualityPages,
    learningPages,
    knowledgeVersionPages,
    partsPages,
    millSettingsPages,
  ])
    app.route('/', pages(site));
  return app;
}
