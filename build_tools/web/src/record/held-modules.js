/**
 * Modules that the scripts of single pages take from this one and do not bring once more: one visit is
 * open, and two copies of it would not know of each other. By their paths in src/, as bundle.mjs reads
 * them.
 */

import * as sharedClient from '../client/shared-client.js';
import * as fillList from '../lib/fill-list.js';
import * as find from '../lib/find.js';
import * as ownKept from '../own/own-kept.js';
import * as withOwn from '../own/with-own.js';
import * as appliances from '../visit/appliances.js';
import * as cardStore from '../visit/card-store.js';
import * as changeAppliances from '../visit/change-appliances.js';
import * as keptAnswer from '../visit/kept-answer.js';
import * as openVisit from '../visit/open-visit.js';
import * as pending from '../visit/pending.js';
import * as readingCheck from '../visit/reading-check.js';
import * as storageError from '../visit/storage-error.js';
import * as tabSync from '../visit/tab-sync.js';
import * as visitAnswers from '../visit/visit-answers.js';
import * as visitChecks from '../visit/visit-checks.js';
import * as visitName from '../visit/visit-name.js';
import * as visitStore from '../visit/visit-store.js';
import * as beginVisit from './begin-visit.js';
import * as cardChoice from './card-choice.js';
import * as outcomeView from './outcome-view.js';

/** @type {Record<string, object>} */
export const heldModules = {
  'client/shared-client.js': sharedClient,
  'lib/fill-list.js': fillList,
  'lib/find.js': find,
  'own/own-kept.js': ownKept,
  'own/with-own.js': withOwn,
  'record/begin-visit.js': beginVisit,
  'record/card-choice.js': cardChoice,
  'record/outcome-view.js': outcomeView,
  'visit/appliances.js': appliances,
  'visit/card-store.js': cardStore,
  'visit/change-appliances.js': changeAppliances,
  'visit/kept-answer.js': keptAnswer,
  'visit/open-visit.js': openVisit,
  'visit/pending.js': pending,
  'visit/reading-check.js': readingCheck,
  'visit/storage-error.js': storageError,
  'visit/tab-sync.js': tabSync,
  'visit/visit-answers.js': visitAnswers,
  'visit/visit-checks.js': visitChecks,
  'visit/visit-name.js': visitName,
  'visit/visit-store.js': visitStore,
};
