// What the room of jobs must keep, and what it does where a phone refuses: run by node --test.
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

/** A phone's storage with as much room as a test gives it. */
class Storage {
  constructor() { this.kept = new Map(); this.room = Infinity; this.denied = false; }
  get length() { this.ask(); return this.kept.size; }
  ask() { if (this.denied) throw new DOMException("denied", "SecurityError"); }
  key(i) { this.ask(); return [...this.kept.keys()][i] ?? null; }
  getItem(key) { this.ask(); return this.kept.has(key) ? this.kept.get(key) : null; }
  removeItem(key) { this.ask(); this.kept.delete(key); }
  setItem(key, value) {
    this.ask();
    const others = [...this.kept].filter(([name]) => name !== key);
    const size = others.reduce((sum, [name, text]) => sum + name.length + text.length, 0);
    if (size + key.length + value.length > this.room) {
      throw new DOMException("no room", "QuotaExceededError");
    }
    this.kept.set(key, value);
  }
}

const sheet = { media: "", dataset: {} };
globalThis.document = Object.assign(new EventTarget(), {
  documentElement: { dataset: {} }, querySelector: () => sheet,
});
globalThis.matchMedia = () => ({ matches: false, addEventListener() {} });
globalThis.localStorage = new Storage();

const jobs = await import("../../site_config/assets/job/jobs.js");
const { store } = await import("../../site_config/assets/job/store.js");
const joined = await import("../../site_config/assets/job/joined.js");
const measured = await import("../../site_config/assets/job/measurements.js");
const { keepTemperature, temperatureAt } = await import("../../site_config/assets/job/temperatures.js");
const { jobTicks, keepJobTicks } = await import("../../site_config/assets/job/job-ticks.js");
const { visitReading } = await import("../../site_config/assets/page/visit-reading.js");

beforeEach(() => {
  localStorage.denied = false;
  localStorage.room = Infinity;
  store.all().forEach(({ id }) => jobs.forgetJob(id));
  localStorage.kept.clear();
});

const reading = (of, shown) => ({ what: "reading", of, typed: { reading: shown } });
/** Leave a job alone for so many hours. */
function leave(id, hours) {
  const job = JSON.parse(localStorage.getItem(`ohm.job.${id}`));
  job.touched = new Date(Date.now() - hours * 3600e3).toISOString();
  localStorage.setItem(`ohm.job.${id}`, JSON.stringify(job));
}

test("a full phone writes to the machine that was chosen last", () => {
  const left = jobs.startJob("split", { mark: "left" });
  localStorage.room = 0;
  const right = jobs.startJob("split", { mark: "right" });
  assert.equal(store.trouble(), "full");
  assert.equal(jobs.currentJob("split").id, right.id);
  localStorage.room = Infinity;
  jobs.chooseJob(left.id);
  assert.equal(jobs.currentJob("split").id, left.id);
});

test("two machines of one family share nothing", () => {
  const left = jobs.startJob("split", { mark: "left" });
  measured.addMeasurement("split", reading("coil", "12k"));
  keepTemperature("split", "outdoors", { t_c: "8", how: "held-on", thermometer: "t1" });
  keepJobTicks("split", "board-refit", { ticked: ["1", "2"], complete: false });
  const right = jobs.startJob("split", { mark: "right" });
  assert.equal(jobs.currentJob("split").id, right.id);
  assert.deepEqual(measured.measurementsOf(jobs.currentJob("split")), []);
  assert.equal(temperatureAt("split", "outdoors"), null);
  assert.deepEqual(jobTicks("split", "board-refit"), { ticked: [], complete: false });
  jobs.chooseJob(left.id);
  assert.equal(measured.measurementsOf(jobs.currentJob("split"))[0].typed.reading, "12k");
  assert.equal(temperatureAt("split", "outdoors").t_c, "8");
  assert.deepEqual(jobTicks("split", "board-refit").ticked, ["1", "2"]);
});

test("families have their own current jobs", () => {
  jobs.startJob("split");
  assert.equal(jobs.currentJob("chiller"), null);
  const chiller = jobs.startJob("chiller");
  assert.equal(jobs.currentAmong(["split", "chiller"]).id, chiller.id);
  assert.equal(jobs.openJobs().length, 2);
});

test("a second reading is added and the first stays", () => {
  const first = measured.addMeasurement("split", reading("coil", "12k"));
  const second = measured.addMeasurement("split", { ...reading("coil", "9k"), after: true });
  assert.ok(measured.changeMeasurement("split", second, { typed: { reading: "9.1k" } }));
  const all = measured.measurementsOf(jobs.currentJob("split"), { what: "reading", of: "coil" });
  assert.deepEqual(all.map(({ typed, after }) => [typed.reading, after]), [["12k", false], ["9.1k", true]]);
  measured.removeMeasurement("split", first);
  assert.equal(measured.measurementsOf(jobs.currentJob("split")).length, 1);
});

test("typing never lands in another machine's job", () => {
  const id = measured.addMeasurement("split", reading("coil", "12k"));
  jobs.startJob("split", { mark: "the other" });
  assert.equal(measured.changeMeasurement("split", id, { typed: { reading: "1" } }), false);
});

test("what is typed today never joins a job of another day", () => {
  const { id } = jobs.startJob("split", { mark: "yesterday" });
  keepTemperature("split", "outdoors", { t_c: "8", how: "air", thermometer: "" });
  leave(id, 13);
  assert.ok(jobs.isOld(jobs.currentJob("split")));
  assert.equal(temperatureAt("split", "outdoors"), null);
  measured.addMeasurement("split", reading("coil", "12k"));
  assert.notEqual(jobs.currentJob("split").id, id);
  assert.equal(jobs.openJobs().length, 2);
  leave(jobs.currentJob("split").id, 11);
  assert.equal(jobs.isOld(jobs.currentJob("split")), false);
});

test("a closed job is kept, and chosen again it is open", () => {
  const { id } = jobs.startJob("split");
  jobs.closeJob(id);
  assert.equal(jobs.currentJob("split"), null);
  assert.equal(jobs.openJobs().length, 0);
  assert.equal(jobs.allJobs().length, 1);
  jobs.chooseJob(id);
  assert.equal(jobs.currentJob("split").id, id);
});

test("what was begun beside an old job can be put into it, and overwrites no reading", async () => {
  const { id } = jobs.startJob("split", { mark: "left" });
  measured.addMeasurement("split", reading("coil", "12k"));
  jobs.addCode("split", { code: "split-a1", shown: "A1" });
  jobs.changeJob(id, (job) => { job.settings.board = { 1: "on", 2: "off" }; });
  leave(id, 50);
  measured.addMeasurement("split", reading("coil", "9k"));
  jobs.addCode("split", { code: "split-a1", shown: "A1" });
  jobs.changeJob(jobs.currentJob("split").id, (job) => { job.settings.board = { 2: "on" }; });
  const later = jobs.currentJob("split");
  assert.equal(joined.begunBeside(later).id, id);
  await joined.joinOlder(later);
  const [job] = jobs.allJobs();
  assert.equal(jobs.allJobs().length, 1);
  assert.equal(jobs.currentJob("split").id, id);
  assert.equal(jobs.isOld(job), false);
  assert.deepEqual(job.measurements.map((read) => [read.id, read.typed.reading]), [[1, "12k"], [2, "9k"]]);
  assert.equal(job.codes.length, 1);
  assert.deepEqual(job.settings.board, { 1: "on", 2: "on" });
  assert.equal(job.mark, "left");
});

test("what was begun beside an old job is kept apart where somebody says so, or closed the old one", () => {
  const { id } = jobs.startJob("split", { mark: "left" });
  leave(id, 50);
  measured.addMeasurement("split", reading("coil", "9k"));
  joined.keepApart(jobs.currentJob("split"));
  assert.equal(joined.begunBeside(jobs.currentJob("split")), null);
  jobs.chooseJob(id);
  leave(id, 50);
  measured.addMeasurement("split", reading("coil", "8k"));
  assert.equal(joined.begunBeside(jobs.currentJob("split")).id, id);
  jobs.closeJob(id);
  assert.equal(joined.begunBeside(jobs.currentJob("split")), null);
});

test("the newest code counts, and one shown again stands once", () => {
  jobs.addCode("split", { code: "split-a1", shown: "A1" });
  jobs.addCode("split", { code: "split-b2", shown: "B2" });
  jobs.addCode("split", { code: "split-a1", shown: "A1" });
  assert.deepEqual(jobs.currentJob("split").codes.map(({ code }) => code), ["split-b2", "split-a1"]);
});

test("a forgotten job leaves nothing in storage", () => {
  const { id } = jobs.startJob("split");
  measured.addMeasurement("split", reading("coil", "12k"));
  jobs.forgetJob(id);
  assert.deepEqual([...localStorage.kept.keys()], []);
});

test("where storage is denied the job goes on in memory, and that is known", () => {
  assert.equal(store.trouble(), "");
  localStorage.denied = true;
  assert.equal(store.trouble(), "memory");
  const { id } = jobs.startJob("split", { mark: "private" });
  measured.addMeasurement("split", reading("coil", "12k"));
  assert.equal(jobs.currentJob("split").id, id);
  assert.equal(measured.measurementsOf(jobs.currentJob("split")).length, 1);
  jobs.forgetJob(id);
  assert.equal(jobs.openJobs().length, 0);
});

test("where storage is full nothing is lost, and what is newest is kept once there is room", () => {
  const { id } = jobs.startJob("split");
  localStorage.room = 700;
  for (let i = 0; i < 20; i++) measured.addMeasurement("split", reading("coil", `${i}k`));
  assert.equal(store.trouble(), "full");
  assert.equal(measured.measurementsOf(jobs.currentJob("split")).length, 20);
  localStorage.room = Infinity;
  jobs.changeJob(id, (job) => { job.mark = "roof"; });
  assert.equal(store.trouble(), "");
  assert.equal(JSON.parse(localStorage.getItem(`ohm.job.${id}`)).measurements.length, 20);
});

test("a broken record and one of a newer release are left as they are", () => {
  localStorage.setItem("ohm.job.broken", "{");
  localStorage.setItem("ohm.job.newer", JSON.stringify({ id: "newer", version: 99 }));
  assert.deepEqual(jobs.allJobs(), []);
  assert.equal(store.trouble(), "newer");
  assert.equal(localStorage.getItem("ohm.job.broken"), "{");
});

test("every change is said aloud", () => {
  let heard = 0;
  const hear = () => { heard += 1; };
  document.addEventListener("ohm:job", hear);
  const { id } = jobs.startJob("split");
  jobs.changeJob(id, (job) => { job.plate = "12"; });
  jobs.forgetJob(id);
  document.removeEventListener("ohm:job", hear);
  assert.ok(heard >= 3);
});

test("what is read of a part that two machines have goes to the job touched last", () => {
  const split = jobs.startJob("split");
  const chiller = jobs.startJob("chiller");
  leave(chiller.id, 1);
  const reading = visitReading({ families: ["chiller", "split"], what: "windings", of: "fan" });
  reading.keep({ typed: { readings: { "U-V": "3.2" } }, after: false, state: "within" });
  assert.equal(reading.family(), "split");
  reading.keep({ typed: { readings: { "U-V": "3.3" } }, after: true, state: "within" });
  const [kept, ...others] = measured.measurementsOf(jobs.currentJob("split"));
  assert.deepEqual([kept.typed.readings, kept.after, kept.state, others],
    [{ "U-V": "3.3" }, true, "within", []]);
  assert.deepEqual(measured.measurementsOf(jobs.currentJob("chiller")), []);
  leave(split.id, 2);
  leave(chiller.id, 1);
  assert.equal(reading.elsewhere(), true);
  reading.another();
  reading.keep({ typed: { readings: { "U-V": "4.0" } }, after: false, state: "within" });
  assert.equal(measured.measurementsOf(jobs.currentJob("chiller")).length, 1);
  reading.keep(null);
  assert.deepEqual(measured.measurementsOf(jobs.currentJob("chiller")), []);
});

test("a family's jobs are found under its new name, as old as they were and still chosen", () => {
  const left = jobs.startJob("old", { mark: "left" });
  const right = jobs.startJob("old", { mark: "right" });
  const other = jobs.startJob("split", { mark: "other" });
  leave(right.id, 20);
  const before = store.of(right.id).touched;
  jobs.adoptJobs("new", "older old");
  assert.equal(jobs.currentJob("old"), null);
  assert.equal(jobs.currentJob("new").id, right.id);
  assert.equal(store.of(right.id).touched, before);
  assert.equal(store.of(left.id).family, "new");
  assert.equal(jobs.currentJob("split").id, other.id);
});

test("a job of a former name never displaces the one that is chosen under the new", () => {
  jobs.startJob("old", { mark: "old" });
  const now = jobs.startJob("new", { mark: "now" });
  jobs.adoptJobs("new", "old");
  assert.equal(jobs.currentJob("new").id, now.id);
  assert.equal(jobs.openJobs().length, 2);
});
