"""An engineer with a phone on a roof: what they do in a job, as verbs, each tap counted."""

from __future__ import annotations

import dataclasses
import json
import shutil
from pathlib import Path

from click.testing import CliRunner

from generators.all_commands import ohmfolio
from kb.catalog import Catalog
from kb.check import check_notes
from kb.model import Case, Sensor

ROOT = Path(__file__).resolve().parents[2]
STORES = """async () => {
  const databases = {};
  for (const { name } of await indexedDB.databases()) {
    const opened = await new Promise((resolve) => {
      const asked = indexedDB.open(name);
      asked.onsuccess = () => resolve(asked.result);
    });
    for (const store of opened.objectStoreNames) {
      databases[`${name}/${store}`] = await new Promise((resolve) => {
        const all = opened.transaction(store).objectStore(store).getAllKeys();
        all.onsuccess = () => resolve(all.result);
      });
    }
    opened.close();
  }
  return { local: { ...localStorage }, session: { ...sessionStorage }, databases };
}"""
SELF = ("ohm.by", "ohm.opened", "ohm.choice.", "ohm.unit", "ohm.look", "ohm.seen ")
"""What a phone keeps of the engineer and of this copy of the notes, and of no job."""


@dataclasses.dataclass(frozen=True, kw_only=True)
class Answer:
    """What a form says of what was typed."""

    verdict: str
    why: str
    reasons: str
    """All of the answer, with what else would explain it."""
    next_step: str


class Machine:
    """The physics of the demo's machines: what a meter shows of a true fault."""

    def __init__(self) -> None:
        self.catalog = Catalog(check_notes(ROOT))

    def ohm(self, sensor: str, t_c: float) -> float:
        """Return what a sound sensor has at its temperature, in ohms."""
        entry = self.catalog.get(Sensor, sensor)
        return float(self.catalog.characteristic_of_sensor(entry).r_ohm(t_c))

    def words(self, sensor: str, field: str) -> str:
        """Return what the sensor's entry says of it."""
        return getattr(self.catalog.get(Sensor, sensor), field)


def shown(ohm: float) -> str:
    """Return the figure on a meter of four thousand counts, as one types it."""
    if ohm >= 400e3:
        return f"{ohm / 1e6:.3f}M"
    if ohm >= 40e3:
        return f"{ohm / 1e3:.1f}k"
    if ohm >= 4e3:
        return f"{ohm / 1e3:.2f}k"
    return f"{ohm:.0f}" if ohm >= 400 else f"{ohm:.1f}"


class Engineer:
    """One thumb, one phone, no network."""

    def __init__(self, phone: object, home: str) -> None:
        self.phone = phone
        self.page = phone.page
        self.home = home
        self.taps = 0
        self.machine = Machine()
        self._asked: list[str] = []
        self.page.on("dialog", self._agree)

    def _agree(self, dialog: object) -> None:
        self._asked.append(dialog.message)
        dialog.accept()

    def tap(self, target: object) -> None:
        """Tap something that is no field."""
        self.taps += 1
        target.tap()

    # On the way

    def find(self, typed: str, *, takes: str) -> None:
        """Start at home, type what the machine shows, take the hit that is meant.

        It shall be among the first three, as families may share a blink.
        """
        self.page.goto(self.home)
        field = self.page.get_by_role("combobox")
        field.tap()
        field.press_sequentially(typed)
        self.page.get_by_role("option").first.wait_for()
        hits = self.page.get_by_role("option").all()[:3]
        hit = next(hit for hit in hits if plain(hit.inner_text()).startswith(takes))
        self.tap(hit)
        # The field writes the query into home's own address first.
        self.page.wait_for_url(lambda url: not url.startswith(self.home))

    def open(self, name: str, *, nth: int = 0) -> None:
        """Follow a link or key of the page by the words on it."""
        link = self.page.get_by_role("link", name=name).nth(nth)
        with self.page.expect_navigation():
            self.tap(link)

    def title(self) -> str:
        """Return the heading of the page."""
        return plain(self.page.locator("#ohm-main h1, main h1").first.inner_text())

    # At a sensor

    def measure(
        self, reading: str, *, at: str = "", how: str = "", after: bool = False, again: bool = False
    ) -> Answer:
        """Type what thermometer and meter show on a sensor's page; return what it says."""
        form = self._form("judge")
        if after:
            self.tap(form.get_by_text("after the repair", exact=True))
        if again:
            self.tap(form.get_by_role("button", name="Read it again"))
        if at:
            form.get_by_label("Temperature at the sensor", exact=True).fill(at)
        if how:
            self.tap(form.get_by_text(how, exact=True))
        form.get_by_label("Meter shows").fill(reading)
        return self.answer("judge")

    def volts(self, volts: str, *, plug_off: str = "") -> str:
        """Read the plug live, and without it; return what the page says of it."""
        side = self._form("judge").locator('[data-side="volts"]')
        self.tap(side.locator("summary"))
        side.get_by_label("Volts at the plug, plugged in and powered").fill(volts)
        if plug_off:
            side.get_by_label("With the plug off, if you measured that too").fill(plug_off)
        return plain(side.locator("output").inner_text())

    def loop(self, reading: str, *, at: str = "", how: str = "", again: bool = False) -> Answer:
        """Read a motor's loop; return what its page says."""
        form = self._form("loop")
        if at:
            form.get_by_label("Temperature of the motor", exact=True).fill(at)
        if how:
            self.tap(form.get_by_text(how, exact=True))
        if again:
            self.tap(form.get_by_role("button", name="Read it again"))
        form.get_by_label("Meter shows").fill(reading)
        return self.answer("loop")

    def earlier(self) -> list[str]:
        """Return what the page knows of readings that were taken before."""
        return [plain(line) for line in self.page.locator(".ohm-earlier li").all_inner_texts()]

    def _form(self, name: str) -> object:
        return self.page.locator(f'form[data-calc="{name}"]')

    def answer(self, form_name: str) -> Answer:
        """Return what a form says, once the curves that it asked for have come."""
        form = self._form(form_name)
        form.locator("output[aria-busy]").wait_for(state="detached")
        next_step = form.locator(".ohm-next")
        return Answer(
            verdict=plain(form.locator(".ohm-verdict-word").first.inner_text()).partition(" ")[2],
            why=plain(form.locator(".ohm-verdict-why").first.inner_text()),
            reasons=plain(
                form.locator("output").first.inner_text()
                + " "
                + " ".join(form.locator(".ohm-more").all_inner_texts())
            ),
            next_step=plain(next_step.first.inner_text()) if next_step.count() else "",
        )

    # At a part

    def take_meter(self, meter: str) -> Answer:
        """Take another meter to the windings; return what the page says then."""
        form = self._form("winding")
        self.taps += 1
        form.get_by_label("Meter", exact=True).select_option(label=meter)
        return self.answer("winding")

    def windings(self, readings: dict[str, str], *, at: str, how: str) -> Answer:
        """Type what each pair of leads shows; return what the page says."""
        form = self._form("winding")
        form.get_by_label("Temperature of the winding", exact=True).fill(at)
        self.tap(form.get_by_text(how, exact=True))
        for pair, reading in readings.items():
            form.get_by_label(pair, exact=True).fill(reading)
        return self.answer("winding")

    def insulation(self, reading: str, *, volts: str, at: str, how: str) -> Answer:
        """Type what the tester shows against earth; return what the page says."""
        form = self._form("insulation")
        form.get_by_label("Test voltage").select_option(volts)
        form.get_by_label("Tester shows after one minute").fill(reading)
        form.get_by_label("Temperature of the winding", exact=True).fill(at)
        self.tap(form.get_by_text(how, exact=True))
        return self.answer("insulation")

    def settings(self, values: dict[str, str]) -> None:
        """Write down what the part is set to before it comes out."""
        for label, value in values.items():
            field = self._form("settings").get_by_label(label)
            if field.evaluate("field => field.localName") == "select":
                field.select_option(value)
            else:
                field.fill(value)

    def setting(self, label: str) -> str:
        """Return what is written down of one setting."""
        return self._form("settings").get_by_label(label).input_value()

    def put_back(self) -> str:
        """Tick the whole refit list and close it."""
        self._tick("refit")
        self.tap(self.page.get_by_role("button", name="Everything is back"))
        return self._state("refit")

    def prove(self, values: dict[str, str] | None = None) -> str:
        """Tick every proof, with what was read, and close the list."""
        for what, value in (values or {}).items():
            self.page.get_by_label(f"What was read: {what}").fill(value)
        self._tick("prove")
        self.tap(self.page.get_by_role("button", name="It is proved"))
        return self._state("prove")

    def _tick(self, name: str) -> None:
        for box in self.page.locator(f".ohm-tick[data-list$='-{name}'] label").all():
            self.tap(box)

    def _state(self, name: str) -> str:
        state = self.page.locator(f".ohm-tick[data-list$='-{name}'] + .ohm-tick-state")
        return plain(state.inner_text())

    # Which machine

    def start_job(self, mark: str) -> None:
        """Begin a job by the bar, beside another one where that is open."""
        self.tap(self.page.locator(".ohm-job-change"))
        another = self.page.get_by_role("button", name="Another machine")
        beside_one = another.count() > 0
        if beside_one:
            self.tap(another)
        panel = self.page.locator(".ohm-job-panel")
        panel.get_by_label("Your mark for it").fill(mark)
        key = "Start, leave the other open" if beside_one else "Start"
        self.tap(self.page.get_by_role("button", name=key, exact=True))
        self.page.locator(".ohm-job-name").filter(has_text=mark).wait_for()

    def choose_job(self, mark: str) -> None:
        """Go on with another job of this family, on the job page."""
        self.tap(self.page.get_by_role("button", name=f"Go on with it: {mark}"))
        self.page.locator(".ohm-job-name").filter(has_text=mark).wait_for()

    # On the job page

    def job_page(self) -> str:
        """Go to the job by the bar; return its text for customer and office."""
        with self.page.expect_navigation():
            self.tap(self.page.locator(".ohm-job-name"))
        return self.job_text()

    def job_text(self) -> str:
        """Return what goes to customer and office."""
        return plain(self.page.locator(".ohm-job-text").inner_text())

    def hand_over(self, *, found: str, cause: str, done: str, minutes: int = 40) -> str:
        """Say what the notes want to know; return the text for customer and office."""
        self.page.get_by_label("What was found").fill(found)
        choice = self.page.get_by_label("The cause")
        if ":" in cause:
            choice.select_option(cause)
        else:
            choice.select_option("words")
            self.page.get_by_label("In words", exact=True).fill(cause)
        self.page.get_by_label("What was done").fill(done)
        self.page.get_by_label("Minutes on site").fill(str(minutes))
        self.page.get_by_label("Your initials").fill("RT")
        return self.job_text()

    def case_file(self, folder: Path) -> Case:
        """Save the case and let the keeper add it to a copy of the notes; return it read again."""
        assert plain(self.page.locator(".ohm-case-missing").inner_text()) == ""
        with self.page.expect_download() as started:
            self.tap(self.page.get_by_role("button", name="Save the case"))
        saved = folder / started.value.suggested_filename
        started.value.save_as(saved)
        notes = folder / f"notes-{saved.stem}"
        for name in ("docs_data", "content"):
            shutil.copytree(ROOT / name, notes / name)
        added = CliRunner().invoke(ohmfolio, ["case", "add", str(saved), "--notes", str(notes)])
        assert added.exit_code == 0, added.output
        read = check_notes(notes)
        assert not [problem for problem in read.problems if not problem.warning]
        return read.of(Case)[saved.stem]

    def clear(self, mark: str = "", *, others: int = 0) -> None:
        """Clear the job and see that no store of the browser keeps anything of it.

        Parameters
        ----------
        mark : str
            Which job, where there are several.
        others : int
            How many jobs stay on the phone.
        """
        gone = self._jobs(mark)
        self.tap(self.page.get_by_role("button", name=f"Clear this job{mark and ': ' + mark}"))
        self.page.get_by_text("Cleared.", exact=True).wait_for()
        assert self._asked, "It was cleared without a question."
        kept = self.page.evaluate(STORES)
        of_jobs = {key: kept["local"][key] for key in kept["local"] if not key.startswith(SELF)}
        records = [key for key in of_jobs if key.startswith("ohm.job.")]
        assert len(records) == others, records
        everything = json.dumps(kept)
        for job in gone:
            assert job["id"] not in everything
            assert not [typed for typed in _typed_in(job) if typed in everything]
        if not others:
            assert of_jobs == {} and kept["session"] == {}
            assert not any(kept["databases"].values()), kept["databases"]

    def _jobs(self, mark: str) -> list[dict]:
        """Return the records of the jobs with this mark."""
        kept = self.page.evaluate(STORES)["local"]
        jobs = [json.loads(kept[key]) for key in kept if key.startswith("ohm.job.")]
        return [job for job in jobs if mark in ("", job["mark"])]

    def went_quietly(self) -> None:
        """Hold that nothing complained and nothing was asked of another host."""
        assert self.phone.complaints == []
        assert self.phone.asked_elsewhere(self.home.rpartition("/")[0]) == []


def _typed_in(job: dict) -> list[str]:
    """Return what was typed of a job, where it is long enough to be known again."""
    words = [
        *job["words"].values(),
        *(measured["typed"].get("reading", "") for measured in job["measurements"]),
    ]
    return [typed for typed in words if len(typed) > 4]


def beside(ohm: float, other_ohm: float) -> float:
    """Return two resistances side by side, in ohms."""
    return 1 / (1 / ohm + 1 / other_ohm)


def plain(text: str) -> str:
    """Return words as one reads them: with single spaces."""
    return " ".join(text.replace("\u00a0", " ").split())
