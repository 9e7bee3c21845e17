import { listPorts, type PortFacts, portAt } from '../device/portFacts.js';
import { faultLine } from './faultLine.js';

/**
 * `leeway ports`: the serial ports of this machine and what the system knows of each, on standard output.
 * @param path look at this one only, also where the system does not list it.
 * @throws {Fault} PORT_MISSING for a path that is not there.
 */
export function ports(path: string | undefined, isJson: boolean): void {
  const found = path === undefined ? listPorts() : [portAt(path)];
  process.stdout.write(isJson ? `${JSON.stringify({ ports: found.map(toJson) })}\n` : toText(found));
}

function toText(found: readonly PortFacts[]): string {
  if (found.length === 0)
    return 'No serial port is there. Plug the sensor in; a port that is not listed can be looked at with: leeway ports PATH\n';
  return found.map((port) => `${linesOf(port).join('\n')}\n`).join('\n');
}

function linesOf(port: PortFacts): string[] {
  const { path, adapter, driver, byId, byPath, group, isAllowed, holder, latency, findings } = port;
  const use =
    byId[0] !== undefined && !findings.some(({ code }) => code === 'PORT_NAME_SHARED') ? byId[0] : (byPath[0] ?? path);
  const join = group === undefined ? '' : `: sudo usermod -aG ${group} $USER, then log in again`;
  return [
    path,
    `  adapter: ${adapter ?? 'no USB adapter'}${driver === undefined ? '' : `, driver ${driver}`}`,
    ...[...byId, ...byPath].map((name) => `  stable name: ${name}`),
    `  permission: ${isAllowed ? 'yes' : `no${join}`}${group === undefined ? '' : ` (group ${group})`}`,
    `  held by: ${holder === undefined ? 'nobody that this user may see' : `${holder.command} (process ${holder.pid})`}`,
    ...(latency === undefined ? [] : [`  holds bytes back: up to ${latency * 1000} ms`]),
    `  to use it: sensor.port: ${use}`,
    ...findings.map((finding) => `  finding: ${faultLine(finding)}`),
  ];
}

function toJson(port: PortFacts): object {
  const { path, adapter, driver, byId, byPath, group, isAllowed, holder, latency, findings } = port;
  return {
    path,
    adapter,
    driver,
    by_id: byId,
    by_path: byPath,
    group,
    allowed: isAllowed,
    holder,
    latency_s: latency,
    findings: findings.map(({ code, facts, remedy }) => ({ code, what: facts.text, remedy })),
  };
}
