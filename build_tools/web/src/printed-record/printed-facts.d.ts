/** What build_tools/pages/printed_record.py says of the record on paper. */

export type Row = {
  label: string;
  between: string;
  found: string[];
  left: string[];
  found_in?: string;
  left_in?: string;
  else_in?: string;
  /** steps whose outcomes stand here and nowhere else */
  claims: string[];
  /** label of what a step worked out */
  figure?: string;
  /** whether that is what was judged */
  judged?: boolean;
};

export type PrintedFacts = {
  groups: { title: string; rows: Row[] }[];
  heatInput: Row[];
  /** readings that are answered by a word which is in order or not */
  checks: string[];
  questions: Record<string, { label: string; options: Record<string, string> }>;
  sure: string[];
  cautions: string[];
  foot: string;
  signed: string[];
};

/** What an appliance has of a visit, or what all share of it. */
export type Held = {
  /** named on each side */
  title: string;
  readings: Map<string, import('../visit/visit-types.js').Reading>;
  outcomes: import('../visit/visit-types.js').KeptOutcome[];
  /** steps whose outcomes a row claims: they stand beside no reading */
  claimed: Set<string>;
  notes: Map<string, import('../visit/visit-types.js').Note>;
  answers: import('../visit/visit-types.js').KeptAnswer[];
  choices: import('../visit/visit-types.js').Choice[];
  marks: import('../visit/visit-types.js').CheckMark[];
  instruments: import('../visit/visit-types.js').KeptInstrument[];
  /** who worked, as the reader typed it for print; empty where nothing was */
  person: string;
  /** whether it is signed: what is shared is signed with each appliance */
  isSigned: boolean;
};

/** A figure with its own outcome. */
export type Cell = { text: string; state: string; told: string };
export type Line = {
  label: string;
  found: Cell | null;
  left: Cell | null;
  limit: string;
  from: string;
  state: string;
  word: string;
};
