// Put a job into plain words that a customer and an office can read. Pure: it touches no page.

/**
 * @param {{family: string, on: string, by: string, shown: string, found: string,
 *   readings: string[], cause: string, cure: string, refrigerant: string,
 *   needed: string[], cautions: string[],
 *   lists: Array<{name: string, ticked: number, of: number, complete: boolean,
 *   what: string}>, proved: string[], unproved: string[], minutes: string}} job
 * @returns {string} plain text
 */
export function jobText(job) {
  const rows = [job.family, [job.on, job.by && `by ${job.by}`].filter(Boolean).join(", ")];

  /** @param {string} title @param {string[]} lines empty ones are left out */
  function part(title, lines) {
    const told = lines.filter(Boolean);
    if (told.length) { rows.push("", title); told.forEach((line) => { rows.push(`- ${line}`); }); }
  }

  part("What the machine showed", [job.shown]);
  part("What was found", [job.found, job.cause && `Cause: ${job.cause}`]);
  part("Measured", job.readings);
  part("What was done", [job.cure, job.refrigerant && `Refrigerant: ${job.refrigerant}`,
    job.minutes && `Time on site: ${job.minutes} minutes`]);
  part("What is needed, and why", job.needed);
  part("Put back and checked", job.lists.map((list) => {
    return `${list.name}: ${list.ticked} of ${list.of} ${list.what}` +
      (list.complete ? "" : list.ticked < list.of ? " (not complete)" : " (not yet called complete)");
  }));
  part("Proved", job.proved);
  part("Not proved yet", job.unproved);
  part("Mind", job.cautions);
  return `${rows.join("\n")}\n`;
}
