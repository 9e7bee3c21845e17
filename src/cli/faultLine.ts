import { explain, type Fault } from '../core/fault.js';

const EXIT_FAULT = 1;
const EXIT_WRONG_USE = 2;

/**
 * One line for a person: what is wrong, the facts, the code, what to do.
 * @example unknown key in the configuration (key: server.prot, nearest: server.port) [CONFIG_KEY_UNKNOWN]. Do: Correct the key; ...
 */
export function faultLine(fault: Fault): string {
  const { text = explain(fault.code).text, ...rest } = fault.facts;
  const facts = Object.entries(rest).map(([name, value]) => `${name.replaceAll('_', ' ')}: ${value}`);
  const written = `${text}${facts.length > 0 ? ` (${facts.join(', ')})` : ''} [${fault.code}]. Do: ${fault.remedy}`;
  return written.replaceAll(/\p{Cc}+/gu, ' '); // what came from outside must neither break the line nor drive the terminal
}

/** @returns the exit code that a Fault ends the process with. */
export function exitCodeOf(fault: Fault): number {
  return fault.code === 'USAGE_WRONG' ? EXIT_WRONG_USE : EXIT_FAULT;
}
