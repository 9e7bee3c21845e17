import type { Figures, Item } from '../../bringup/examine.js';
import type { Fault } from '../../core/fault.js';
import { faultLine } from '../faultLine.js';
import type { Measured } from './measures.js';

/** Everything that a check has to tell. */
export interface Told {
  readonly port: string;
  readonly layout: string;
  readonly baud: number;
  /** s of data. */
  readonly seconds: number;
  readonly items: readonly Item[];
  readonly findings: readonly Fault[];
  /** Worth knowing, but no finding. */
  readonly remarks: readonly Fault[];
  readonly figures?: Figures;
  readonly measured?: { readonly name: string } & Pick<Measured, 'lines' | 'values'>;
  /** Where what was found is stored, and which keys. */
  readonly stored?: { readonly file: string; readonly keys: readonly string[] };
  readonly report?: string;
}

/** @returns plain sentences, a line each: for any terminal and any screen reader. */
export function toText(told: Told): string {
  const { port, layout, baud, seconds, items, findings, remarks, measured, stored, report } = told;
  const lines = [`${port}, layout ${layout}, ${baud} baud, ${seconds.toFixed(1)} s of data.`];
  for (const { item, verdict, what } of items) lines.push(`${item}: ${verdict}; ${what}.`);
  lines.push(...(measured?.lines ?? []));
  for (const remark of remarks) lines.push(`Remark: ${faultLine(remark)}`);
  if (findings.length === 0) lines.push('No findings.');
  else lines.push(findings.length === 1 ? '1 finding:' : `${findings.length} findings:`);
  findings.forEach((finding, i) => {
    lines.push(`${i + 1}. ${finding.message}.`, `   Do: ${finding.remedy}`);
  });
  if (stored) lines.push(`Stored in ${stored.file}: ${stored.keys.join(', ')}.`);
  if (report !== undefined) lines.push(`Report: ${report}`);
  return `${lines.map((line) => line.replaceAll(/\p{Cc}+/gu, ' ')).join('\n')}\n`;
}

/** @returns the same as one line of JSON; units in the names. */
export function toJson(told: Told): string {
  const { port, layout, baud, seconds, items, findings, remarks, figures, measured, stored, report } = told;
  return `${JSON.stringify({
    port,
    layout,
    baud,
    seconds_s: Number(seconds.toFixed(3)),
    items,
    findings: findings.map(asData),
    remarks: remarks.map(asData),
    ...(figures && { figures }),
    ...(measured && { [measured.name]: measured.values }),
    ...(stored && { stored }),
    ...(report !== undefined && { report }),
  })}\n`;
}

function asData(fault: Fault): object {
  const { text, ...facts } = fault.facts;
  return { code: fault.code, what: text ?? fault.message.replace(/ \[\w+\]$/, ''), remedy: fault.remedy, facts };
}
