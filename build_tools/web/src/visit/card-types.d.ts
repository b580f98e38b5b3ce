/** What is kept of an appliance card. Times are ISO, in UTC. */

export type CardLine = { field: string; text: string; unit: string; page: string };

export type Card = {
  id: string;
  name: string;
  /** of the instructions that it was typed from */
  edition: string;
  at: string;
  /** no such appliance exists */
  invented: boolean;
  lines: CardLine[];
};

export type CardFile = {
  format: string;
  version: number;
  edition: string;
  written: string;
  cards: Card[];
};

/** What a field of a card is for: build_tools/pages/card.py writes it into reading-facts.js. */
export type CardField = { id: string; label: string; reading?: string; steps?: string[] };
