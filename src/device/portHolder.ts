import { readdirSync, readFileSync, readlinkSync, realpathSync, statSync } from 'node:fs';

/** A process that has a port open. */
export interface PortHolder {
  readonly pid: number;
  /** As it was started, arguments and all, at most 120 characters. */
  readonly command: string;
}

/**
 * @param path of a device, or a link to it.
 * @returns the first other process that has it open, as far as this user may look; undefined where none is seen or there is no /proc.
 */
export function findHolder(path: string): PortHolder | undefined {
  const device = attempt(() => realpathSync(path));
  if (device === undefined) return undefined;
  const own = attempt(() => readlinkSync('/proc/self'));
  for (const pid of attempt(() => readdirSync('/proc')) ?? []) {
    if (!/^\d+$/.test(pid) || pid === own) continue;
    for (const fd of attempt(() => readdirSync(`/proc/${pid}/fd`)) ?? []) {
      if (attempt(() => readlinkSync(`/proc/${pid}/fd/${fd}`)) !== device) continue;
      const line = attempt(() => readFileSync(`/proc/${pid}/cmdline`, 'utf8')) ?? '';
      return { pid: Number(pid), command: line.replaceAll('\0', ' ').trim().slice(0, 120) || 'unknown' };
    }
  }
  return undefined;
}

/** @returns the name of the group that owns the device (its number where it has no name); undefined where it cannot be told. */
export function owningGroup(path: string): string | undefined {
  const gid = attempt(() => statSync(path).gid);
  if (gid === undefined) return undefined;
  const lines = (attempt(() => readFileSync('/etc/group', 'utf8')) ?? '').split('\n');
  return lines.map((line) => line.split(':')).find((fields) => fields[2] === String(gid))?.[0] ?? String(gid);
}

/** Processes come and go, and some are not ours to look at: what cannot be read is not there. */
function attempt<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}
