// What passes between the page and the program. A set is a key's path and the
// text put there; a version of the claim is the file and a list of sets.

export type Sets = [string, string][];

export interface Opened {
  digest: string;
  file: string;
  claim: string;
  form: string;
  units: string;
  problems: Problem[];
}

export interface Told {
  spoken: string;
  low: number;
  middle: number;
  high: number;
  curve: string;
  kind: "fixed" | "varies" | "unknown" | "assumed" | "word";
  html: string;
}

export interface Problem {
  key: string | null;
  message: string;
  help: string | null;
}

export interface Part {
  path: string;
  value: number;
  unit: string;
  per: number;
  off: number;
  step: number;
}

export interface Handle {
  key: string;
  view: string;
  x: number;
  y: number;
  axis: "x" | "y";
  unit_per_px: number;
  value: number;
  low: number;
  high: number;
  text: string;
  label: string;
  parts: Part[];
}

export type Line =
  | { event: "problems"; problems: Problem[] }
  | { event: "form"; fields: Record<string, Told>; understood?: string; doubts?: Problem[] }
  | { event: "put"; into: string; html: string; views?: unknown; handles?: Handle[]; flights?: number; phase?: string }
  | { event: "done"; phase?: string }
  | { event: "stale"; digest: string };

export interface Row {
  name: string;
  sets: Sets;
  before: string;
  after: string;
  printed: boolean;
}

export interface Kept {
  sets: Sets;
  past: Sets[];
  future: Sets[];
  rows: Row[];
  against: number | null;
  sources: Record<string, string>;
}
