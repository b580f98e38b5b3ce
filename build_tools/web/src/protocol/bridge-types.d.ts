/** The shapes of calcs.bridge: what goes in and what comes out. */

import type { Chart } from '../chart/chart-types.js';

export type Cell = { value: string; unit?: string };
export type Given = Cell | { rows: Record<string, Cell>[] };

export type Request = {
  action: 'run';
  calculator: string;
  today: string;
  inputs: Record<string, Given>;
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
