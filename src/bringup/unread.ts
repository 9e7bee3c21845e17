import { Fault } from '../core/fault.js';
import type { Recognition } from '../device/recognise.js';

/** What the configuration says of the line, and what trying rates found (device/probe.ts). */
export interface Unread {
  readonly port: string;
  readonly layout: string;
  readonly baud: number;
  readonly found: Readonly<{ baud?: number; recognition: Recognition; isAnswered: boolean }>;
}

/** @returns why a line cannot be read as it is configured; undefined: it can. */
export function unreadFinding({ port, layout, baud, found }: Unread): Fault | undefined {
  const { recognition, isAnswered } = found;
  const rate = found.baud ?? baud;
  const facts = { port, baud: rate };
  if (isAnswered) return new Fault('MOTOR_STILL', facts);
  const { verdict, evidence } = recognition;
  if (verdict === 'silence') return new Fault('PORT_SILENT', { port });
  if (verdict === 'text') {
    const text = `text comes at ${rate} baud, as from a console or another device`;
    return new Fault('BYTES_TEXT', { text, ...facts });
  }
  if (verdict === 'noise') {
    const text = `${evidence.bytes} bytes came that fit no known layout at any usual rate`;
    return new Fault('LAYOUT_NOT_LOCKED', { text, port });
  }
  const other = recognition.layout ?? layout;
  if (evidence.fits[0]?.isStalled) return new Fault('SPIN_STALLED', { port, layout: other });
  if (other !== layout) {
    const text = `the bytes are of layout ${other} at ${rate} baud, not ${layout} at ${baud}`;
    return new Fault('LAYOUT_OTHER', { text, ...facts, layout: other });
  }
  if (rate !== baud) {
    const text = `the sensor sends at ${rate} baud, not at ${baud}`;
    return new Fault('BAUD_WRONG', { text, ...facts });
  }
  return undefined;
}
