/** A chart of an answer, as calcs/engine/chart.py gives it. */

export type Axis = {
  label: string;
  unit: string;
  text: string;
  places: number;
  scale: 'linear' | 'near' | 'log';
};

/** x and y, then how far the true values may be from them to either side. */
export type Point = [number, number] | [number, number, number, number];

export type Kind = 'line' | 'limit' | 'points' | 'marks';

export type Series = { name: string; label: string; kind: Kind; points: (Point | null)[] };

export type Chart = { name: string; label: string; x: Axis; y: Axis; series: Series[] };
