/** What a visit keeps. Times are ISO, in UTC. */

export type Visit = {
  id: string;
  name: string;
  begun: string;
  closed: string | null;
  /** never empty; see appliances.js */
  appliances: Appliance[];
};

/** An appliance of a visit: `id` is `1`, `2`, … */
export type Appliance = { id: string; name: string; at: string; card?: CardUsed };

/** The card that an appliance of a visit goes by, as it was named when it was picked. */
export type CardUsed = { id: string; name: string; edition: string };

export type Reading = {
  name: string;
  label: string;
  value: string;
  unit: string;
  at: string;
  /** edition and page of the appliance card that filled it; not there once a hand has typed it */
  from_card?: string;
};
export type Note = { name: string; label: string; text: string; at: string };

export type KeptFigure = { label: string; text: string; uncertainty: string };
export type KeptVerdict = {
  label: string;
  outcome: string;
  text: string;
  limit: string;
  source: string;
  edition: string;
  provenance: string;
  in_force: string;
};
export type KeptAnswer = {
  calculator: string;
  title: string;
  where: string;
  edition: string;
  at: string;
  inputs: { label: string; text: string }[];
  answers: KeptFigure[];
  verdicts: KeptVerdict[];
};

/** An answer to one of the questions that say which checks apply. */
export type Choice = { name: string; value: string; at: string };
/** What a person says of a check; what the readings say of it is worked out. */
export type CheckMark = { name: string; state: 'done' | 'left_out'; reason: string; at: string };

/** A step that was ticked as done. */
export type Tick = { procedure: string; step: string; at: string };

/** What a step said of its readings. */
export type KeptOutcome = {
  step: string;
  reading: string;
  label: string;
  edition: string;
  at: string;
  state: string;
  text: string;
  held_to: string;
  act: string;
  /** what its calculator worked out; earlier editions kept none */
  figures?: KeptFigure[];
  verdicts: KeptVerdict[];
};

/** An instrument that took a reading, as it was then; `of` is its kind. Figures with their units. */
export type KeptInstrument = {
  of: string;
  name: string;
  serial: string;
  resolution: string;
  accuracy: string;
  /** the last day of its calibration, as "2026-11-28"; empty where none was typed */
  calibrated_until: string;
  at: string;
};

/** One field of a visit, kept by itself, so that two windows never undo each other's. */
export type Entry = {
  visit: string;
  key: string;
  /** whose it is; empty where all share it. Earlier editions said nothing: see `ownerOf`. */
  appliance?: string;
} & (
  | ({ kind: 'reading' } & Reading)
  | ({ kind: 'note' } & Note)
  /** `basis`: what a fit rests on, see kept-fit.js. It stays on the device */
  | ({ kind: 'answer'; basis?: string } & KeptAnswer)
  | ({ kind: 'outcome' } & KeptOutcome)
  | ({ kind: 'choice' } & Choice)
  | ({ kind: 'check' } & CheckMark)
  | ({ kind: 'tick' } & Tick)
  | ({ kind: 'instrument' } & KeptInstrument)
);

/** A visit with all that it holds, as a file has it. */
export type WholeVisit = Visit & {
  readings: Owned<Reading>[];
  outcomes: Owned<KeptOutcome>[];
  choices: Owned<Choice>[];
  checks: Owned<CheckMark>[];
  ticks: Owned<Tick>[];
  notes: Owned<Note>[];
  answers: Owned<KeptAnswer>[];
  instruments: Owned<Omit<KeptInstrument, 'of'> & { kind: string }>[];
};

type Owned<T> = T & { appliance: string };

export type VisitFile = {
  format: string;
  version: number;
  edition: string;
  written: string;
  visits: WholeVisit[];
};

/** What was typed into a field and is not kept yet. */
export type Typed = {
  /** into which visit; null where none was open */
  visit: string | null;
  key: string;
  at: string;
  /** null where the field was emptied */
  entry: Written | null;
};

type Written = { appliance?: string } & (
  | ({ kind: 'reading' } & Reading)
  | ({ kind: 'note' } & Note)
  | ({ kind: 'tick' } & Tick)
);

/** What keeps a browser from keeping. */
export type StorageError =
  | 'refused'
  | 'folder'
  | 'apart'
  | 'full'
  | 'gone'
  | 'removed'
  | 'newer'
  | 'failed';
