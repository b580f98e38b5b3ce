/** The shapes of calcs.bridge: what goes in and what comes out. */

import type { Chart } from '../chart/chart-types.js';

export type Cell = { value: string; unit?: string };
export type Given = Cell | { rows: Record<string, Cell>[] };

export type Request = {
  action: 'run';
  calculator: string;
  today: string;
  inputs: Record<string, Given>;
  own?: Own;
  instruments?: OwnInstrument[];
};

/** Figures from the reader's own copies; `value` with its unit, or the rows of a table. */
export type Own = { name: string; value?: string; rows?: string[][]; edition: string }[];

/** Instruments that the reader owns; what is left empty is as usual for the kind. */
export type OwnInstrument = {
  kind: string;
  name: string;
  serial: string;
  resolution: string;
  accuracy: string;
  calibrated_until: string;
};

/** Asks what holds of them. */
export type OwnRequest = {
  action: 'own';
  today: string;
  own: Own;
  instruments: OwnInstrument[];
};
type Told = { state: string; text: string };
export type OwnReply = { own?: Record<string, Told>; instruments?: Told[] };

/** Asks what each step says of what a visit holds. */
export type OutcomesRequest = {
  action: 'outcomes';
  today: string;
  readings: Record<string, Cell>;
  answers?: Record<string, string>;
  own?: Own;
  instruments?: OwnInstrument[];
  /** As `procedure.step`; else every step that takes one of `changed`. */
  steps?: string[];
  changed?: string[];
};

/** Asks whether the readings of one appliance fit each other; `appliances`: how many the visit has. */
export type FitRequest = {
  action: 'cross_check';
  today: string;
  readings: Record<string, Cell>;
  answers: Record<string, string>;
  appliances: number;
  own?: Own;
  instruments?: OwnInstrument[];
};

/** What to read, and the step that takes it, as `procedure.step`; empty where none does. */
export type ToTake = { text: string; step: string };

/** What each reading says of one thing. */
export type FitPicture = {
  title: string;
  rows: { label: string; value: number; expanded: number; text: string }[];
};

export type Fit = {
  outcome: 'meets' | 'does_not_meet' | 'cannot_tell';
  /** id of what was found, such as too_few */
  reason: string;
  text: string;
  act: string;
  explained: string[];
  /** readings that carry the doubt */
  doubt: { name: string; label: string; text: string }[];
  take: ToTake | null;
  helpful: ToTake[];
  unseen: string;
  pictures: FitPicture[];
  /** readings that were taken */
  count: number;
};

export type FitReply = {
  cross_check?: Fit;
  refused?: Refused[];
  failed?: { kind: string; message: string };
};

/** Numbers of one unit; null where there is no such limit. */
export type OutcomeScale = {
  unit: string;
  places: number;
  reading: number;
  low: number | null;
  high: number | null;
  expanded: number;
};

/** The line of one step. */
export type StepOutcome = {
  state: 'waiting' | 'within' | 'outside' | 'too_close' | 'not_judged' | 'refused';
  /** The reading that it stands beside, and what the record calls it. */
  reading: string;
  label: string;
  text: string;
  held_to: { text: string; source: string } | null;
  act: string;
  reason: string;
  missing: string[];
  scale: OutcomeScale | null;
  /** Answers of its calculator that the record keeps with it. */
  figures: Item[];
  /** The reader's own instruments that took the readings. */
  own: { text: string; is_past: boolean; instruments: OwnInstrument[] } | null;
  verdicts: Item[];
  ahead?: RunAhead;
};

/** A run of the meter that is still to be taken: `value` in the field of `reading` at its end. */
export type RunAhead = {
  text: string;
  takes: string;
  passing: string;
  reading: string;
  value: string;
  elapsed: string;
};

export type OutcomesReply = {
  outcomes?: Record<string, StepOutcome>;
  refused?: Refused[];
  failed?: { kind: string; message: string };
};

/** One line of a list in the result: the texts of its slots, by slot. */
export type Item = Record<string, string | number | null | undefined>;

/** A table beside the answers. `text` of a column is its unit, of a cell what it shows. */
export type Table = {
  name: string;
  label: string;
  columns: { name: string; label: string; text: string }[];
  rows: { value: number | null; text: string }[][];
};

export type Answer = {
  calculator: string;
  inputs: Record<string, { text?: string; rows?: Record<string, { text?: string }>[] }>;
  answers: Item[];
  no_uncertainty_reasons?: string[];
  verdicts?: Item[];
  tables?: Table[];
  working?: Item[];
  notes?: Item[];
  cautions?: string[];
  sources?: Item[];
  charts?: Chart[];
};

/** An answer with the labelled readings and the inputs that it was worked out from. */
export type Settled = { answer: Answer; given: Item[]; inputs: Record<string, Given> };

export type Refused = { field: string | null; kind: string; message: string };

export type Reply =
  | { answer: Answer; refused?: undefined; failed?: undefined }
  | { refused: Refused[]; answer?: undefined; failed?: undefined }
  | { failed: { kind: string; message: string }; answer?: undefined; refused?: undefined };

export type State =
  | 'example'
  | 'starting'
  | 'ready'
  | 'working'
  | 'answered'
  | 'refused'
  | 'stopped';
