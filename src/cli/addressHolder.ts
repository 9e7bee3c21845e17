import { readdirSync, readFileSync, readlinkSync } from 'node:fs';

const COMMAND_MAX = 120; // characters
const LISTEN = '0A'; // TCP_LISTEN of Linux, include/net/tcp_states.h

/**
 * Who listens on a TCP port of this machine, as far as /proc tells (processes of other users only to root).
 * @returns such as `node dist/main.js serve (process 1234)`; undefined where it cannot be told.
 * @source proc_pid_net(5): lines of /proc/net/tcp are `sl local_address rem_address st ... inode`, port and state in hexadecimal.
 */
export function addressHolder(port: number): string | undefined {
  const inodes = new Set(['/proc/net/tcp', '/proc/net/tcp6'].flatMap((table) => listenersIn(read(table) ?? '', port)));
  if (inodes.size === 0) return undefined;
  for (const pid of list('/proc').filter((name) => /^\d+$/.test(name))) {
    for (const descriptor of list(`/proc/${pid}/fd`)) {
      const inode = /^socket:\[(\d+)\]$/.exec(link(`/proc/${pid}/fd/${descriptor}`) ?? '')?.[1];
      if (inode === undefined || !inodes.has(inode)) continue;
      const command = (read(`/proc/${pid}/cmdline`) ?? '').replaceAll('\0', ' ').trim().slice(0, COMMAND_MAX);
      return `${command || 'a program'} (process ${pid})`;
    }
  }
  return undefined;
}

/** @returns the inodes of the sockets that listen on `port` in the text of /proc/net/tcp or tcp6. */
export function listenersIn(table: string, port: number): string[] {
  return table
    .split('\n')
    .map((line) => line.trim().split(/\s+/))
    .filter((row) => row[3] === LISTEN && Number.parseInt(row[1].slice(row[1].lastIndexOf(':') + 1), 16) === port)
    .map((row) => row[9]);
}

// A process may end, or belong to somebody else, while it is looked at: then it tells nothing.
const read = (path: string): string | undefined => attempt(() => readFileSync(path, 'utf8'));
const link = (path: string): string | undefined => attempt(() => readlinkSync(path));
const list = (path: string): string[] => attempt(() => readdirSync(path)) ?? [];

function attempt<T>(look: () => T): T | undefined {
  try {
    return look();
  } catch {
    return undefined;
  }
}
