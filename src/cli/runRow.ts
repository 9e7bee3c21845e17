import type { ListedRun } from '../runs/folder.js';

/** @returns a run of a list as clients get it: units in the names, null where nothing is known. */
export function runRow(run: ListedRun): object {
  return {
    ...{ name: run.name, title: run.title, rover: run.rover, pinned: run.pinned },
    ...{ beganS: known(run.began), wallLeadS: run.wallLead, lengthS: known(run.length) },
    ...{ drivenM: run.driven, closestM: run.closest, marks: run.marks, findings: run.findings },
    ...{ bytes: run.size, cut: run.isCut, ...(run.fault && { fault: run.fault }) },
  };
}

function known(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
