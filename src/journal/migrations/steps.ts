import { mill } from './0001-mill.js';
import { cases } from './0002-cases.js';
import { complaints } from './0003-complaints.js';
import { machineData } from './0004-machine-data.js';
import { clients } from './0005-clients.js';
import { knowledge } from './0006-knowledge.js';
import { training } from './0007-training.js';
import { accounts } from './0008-accounts.js';
import { breakQuarters } from './0009-break-quarters.js';
import { calibration } from './0010-calibration.js';
import { quickSums } from './0011-quick-sums.js';
import { quickCases } from './0012-quick-cases.js';
import type { SchemaStep } from './define.js';

/** All steps of the schema by name, in the order in which they are taken. A step that was released is never edited. */
export const SCHEMA_STEPS: Readonly<Record<string, SchemaStep>> = {
  '0001-mill': mill,
  '0002-cases': cases,
  '0003-complaints': complaints,
  '0004-machine-data': machineData,
  '0005-clients': clients,
  '0006-knowledge': knowledge,
  '0007-training': training,
  '0008-accounts': accounts,
  '0009-break-quarters': breakQuarters,
  '0010-calibration': calibration,
  '0011-quick-sums': quickSums,
  '0012-quick-cases': quickCases,
};
