// Answer the vectors in the page: each kind by the function it holds to Python's.
(function (Ohm) {
  "use strict";

  const grids = {};

  /** The curves once, by name; the nameless one stays nameless. */
  Ohm.takeGrids = function (text) {
    const told = JSON.parse(text);
    Object.keys(told).forEach((name) => {
      grids[name] = new Ohm.Grid(told[name], name.startsWith("(") ? "" : name);
    });
    return Object.keys(grids).length;
  };

  function chosen(names) {
    const found = {};
    names.forEach((name) => { found[name] = grids[name]; });
    return found;
  }

  const ANSWERS = {
    grid(asked) {
      const grid = grids[asked.grid];
      return grid[asked.method](asked.value);
    },
    verdict({ grid, rOhm, how, options }) {
      const measured = Ohm.taken(rOhm, how);
      return { measured, verdict: Ohm.judge(grids[grid], measured, options) };
    },
    explain({ grid, rOhm, how, options }) {
      const others = chosen(options.others);
      return Ohm.explain(grids[grid], Ohm.taken(rOhm, how), { ...options, others });
    },
    round({ readings, options }) {
      Object.keys(readings).forEach((name) => { readings[name].grid = grids[readings[name].grid]; });
      return Ohm.atRest(readings, options);
    },
    exchanged({ places, options }) {
      places.forEach((place) => {
        Object.keys(place).forEach((name) => { place[name].grid = grids[place[name].grid]; });
      });
      return Ohm.exchanged(places, options);
    },
    which({ curves, readings }) {
      const measured = readings.map((one) => Ohm.taken(one.rOhm, one.how));
      return Ohm.whichCurve(chosen(curves), { readings: measured });
    },
    "stand-in": ({ grid, wanted }) => Ohm.standIns(grids[grid], wanted),
    divider: ({ name, first, board }) => Ohm[name](first, board),
    winding({ readings, how, meter }) {
      const leads = Object.keys(readings);
      const rOhm = leads.map((one) => readings[one]);
      const beside = Ohm.meterBesideOhm(meter, rOhm);
      const halfWidthsOhm = {}, digits = {};
      leads.forEach((one, i) => {
        halfWidthsOhm[one] = beside[i];
        digits[one] = Ohm.meterDigitOhm(meter, rOhm[i]);
      });
      return {
        digits,
        balance: Ohm.windingBalance(readings, { ...how, halfWidthsOhm }),
      };
    },
    "winding-corrected": ({ rOhm, how }) => Ohm.broughtTo(rOhm, how),
    insulation: ({ rOhm, of }) => Ohm.insulation(rOhm, of),
    "winding-value": ({ rOhm, of }) => Ohm.windingValue(rOhm, of),
    "curve-pair": ({ one, other, tC }) => ({
      most: Ohm.mostApart(grids[one], { other: grids[other] }),
      here: Ohm.apart(grids[one], { other: grids[other], tC }),
    }),
    notation: ({ name, text, unit }) => Ohm[name](text, unit),
    rounding: ({ name, asked }) => Ohm[name](...asked),
  };

  /** JSON knows no infinity: both ways it goes as text. */
  function revived(_, value) { return value === "Infinity" ? Infinity : value; }
  function told(_, value) {
    return typeof value === "number" && !Number.isFinite(value) ? String(value) : value;
  }

  Ohm.answerVectors = function (text) {
    return JSON.stringify(JSON.parse(text, revived).map(({ kind, asked }) => {
      try {
        return { answer: ANSWERS[kind](asked) };
      } catch (error) {
        if (error.name === "OutOfRange") {
          const { value, low, high, unit } = error;
          return { outOfRange: { value, low, high, unit } };
        }
        if (error.name === "Unreadable" || error instanceof RangeError) {
          return { refused: error.message };
        }
        throw error;
      }
    }), told);
  };
})(globalThis.Ohm);
