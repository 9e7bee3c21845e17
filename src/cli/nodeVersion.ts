import { Fault } from '../core/fault.js';

const OLDEST: readonly [number, number] = [22, 17]; // package.json, engines

/** @param version such as `v22.17.0`. @returns the Fault NODE_TOO_OLD, or undefined where the Node will do. */
export function nodeFault(version: string): Fault | undefined {
  const [major = 0, minor = 0] = version.replace('v', '').split('.').map(Number);
  const isNew = major > OLDEST[0] || (major === OLDEST[0] && minor >= OLDEST[1]);
  return isNew ? undefined : new Fault('NODE_TOO_OLD', { found: version, needed: `v${OLDEST.join('.')}` });
}
