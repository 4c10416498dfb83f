// What the build writes for the page's scripts, and what of browsers is younger than the checker.
import { Compiled } from "../../site_config/assets/numbers/grid.js";
import { Meter, Thermometer } from "../../site_config/assets/numbers/instruments.js";
import { DrillFacts } from "../../site_config/assets/answers/drill.js";
import { TextRaw } from "../../site_config/assets/find/full-text.js";
import { IndexRaw } from "../../site_config/assets/find/matching.js";

declare global {
  /** One release as `assets/release.js` and `newest.json` name it. */
  interface Release {
    name: string;
    number: number;
    date: string;
    files: number;
    stale_after_days: number;
    since?: { [release: string]: { changes: number; safety: number } };
  }

  /** `assets/team.js`: what the team measures with, by id. */
  interface Team {
    short_ohm: number | null;
    meters: { [id: string]: Meter & { name: string; rated_v: number } };
    thermometers: { [id: string]: Thermometer & { name: string } };
  }

  /** The one global of the scripts; `assets/release.js` is the first to write on it. */
  var Ohm: { release?: Release };
  var OhmTeam: Team;
  /** `assets/drill-notes.js`: what drills are made from. */
  var OhmDrills: DrillFacts;
  /** `assets/curves/*.js`: each page has those that it asks for. */
  var OhmCurves: { [id: string]: Compiled } | undefined;
  /** `assets/practice-notes.js`: the machines to practise on, and the notes' words for them. */
  var OhmPractice: {
    machines: any[];
    testers: { [id: string]: any };
    words: { [family: string]: any };
    tester: string;
  };
  var OhmFindIndex: IndexRaw | undefined;
  var OhmFindText: TextRaw | undefined;

  interface Navigator {
    readonly connection?: { readonly saveData: boolean };
  }
  /** Younger than the checker's own list of what a browser has; asked for before it is used. */
  var DecompressionStream: new (format: "gzip") => ReadableWritablePair<Uint8Array, Uint8Array>;
}
