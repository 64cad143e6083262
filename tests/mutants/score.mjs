/**
 * The score of a part by folder, from Stryker's own report: killed and timed out over all that could be met.
 */

/** Mutants that a test could have met; those that do not compile or were left out say nothing. */
const MET = ["Killed", "Timeout"];
const MISSED = ["Survived", "NoCoverage"];

/** @returns rows of folder, mutants met, all of them, and the score in percent */
export function scoresOf(report) {
  const folders = new Map();
  for (const [file, { mutants }] of Object.entries(report.files)) {
    const folder = file.slice(0, file.lastIndexOf("/"));
    const row = folders.get(folder) ?? { folder, met: 0, missed: 0 };
    folders.set(folder, row);
    row.met += mutants.filter(({ status }) => MET.includes(status)).length;
    row.missed += mutants.filter(({ status }) => MISSED.includes(status)).length;
  }
  return [...folders.values()].map(({ folder, met, missed }) => {
    const all = met + missed;
    return { folder, met, all, score: all === 0 ? 100 : (met * 100) / all };
  });
}

/** Mutants nobody met, as lines to look at. */
export function survivorsOf(report) {
  return Object.entries(report.files).flatMap(([file, { source, mutants }]) => {
    const lines = source.split("\n");
    return mutants
      .filter(({ status }) => MISSED.includes(status))
      .map(({ location: { start, end }, mutatorName, replacement, status }) => {
        const was =
          start.line === end.line
            ? lines[start.line - 1].slice(start.column - 1, end.column - 1)
            : lines[start.line - 1].slice(start.column - 1);
        const seen = status === "Survived" ? "" : " (no test comes here)";
        return `${file}:${start.line} ${mutatorName}: ${was.trim()} -> ${replacement}${seen}`;
      });
  });
}
