import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';
import { isIP } from 'node:net';
import { Fault } from '../core/fault.js';
import type { Format, Role } from './feedSource.js';

/** Who may come in; the server part of the configuration. */
export interface DoorSetting {
  readonly tokens: ReadonlyArray<Readonly<{ role: Role; sha256: string }>>;
  /** Host names under which the page may be opened. */
  readonly names: readonly string[];
}

const FORMATS: Readonly<Record<string, Format>> = { 'leeway.v1.proto': 'proto', 'leeway.v1.json': 'json' };
const TOKEN_PREFIX = 'leeway.token.';

/**
 * Refuses pages from elsewhere: a foreign Origin, or a Host that is no address and no known name (a name an attacker controls may
 * point at this machine).
 * @throws {Fault} ORIGIN_FOREIGN.
 */
export function checkOrigin(headers: IncomingHttpHeaders, names: readonly string[]): void {
  const host = headers.host ?? '';
  const name = host.replace(/:\d+$/, '').replace(/^\[(.*)\]$/, '$1').toLowerCase();
  if (isIP(name) === 0 && name !== 'localhost' && !names.some((known) => known.toLowerCase() === name)) throw new Fault('ORIGIN_FOREIGN', { host });
  const origin = headers.origin;
  if (origin !== undefined && origin !== `http://${host}` && origin !== `https://${host}`) throw new Fault('ORIGIN_FOREIGN', { origin });
}

/**
 * @param address of the client's end of the connection.
 * @returns what the client may do: by its token, or admin from this machine where no tokens are configured.
 * @throws {Fault} TOKEN_WRONG.
 */
export function roleOf(headers: IncomingHttpHeaders, address: string, { tokens }: DoorSetting): Role {
  if (tokens.length === 0) {
    if (isLoopback(address)) return 'admin';
    throw new Fault('TOKEN_WRONG', { reason: 'no tokens are configured' });
  }
  const given = createHash('sha256').update(tokenOf(headers) ?? '').digest();
  let role: Role | undefined;
  for (const token of tokens) {
    const known = Buffer.from(token.sha256, 'hex');
    if (known.length === given.length && timingSafeEqual(known, given)) role = token.role; // no early end: each costs the same
  }
  if (role === undefined || tokenOf(headers) === undefined) throw new Fault('TOKEN_WRONG');
  return role;
}

/** @returns the subprotocols a client offers, in its order. */
export function offered(headers: IncomingHttpHeaders): string[] {
  return (headers['sec-websocket-protocol'] ?? '').split(',').map((name) => name.trim()).filter((name) => name !== '');
}

/**
 * @returns the first known of the offered subprotocols and its format; without a name where none was offered.
 * @throws {Fault} SUBPROTOCOL_UNKNOWN: some were offered, none is known.
 */
export function formatOf(protocols: readonly string[]): { readonly name?: string; readonly format: Format } {
  const formats = protocols.filter((name) => !name.startsWith(TOKEN_PREFIX));
  const known = formats.find((name) => name in FORMATS);
  if (known !== undefined) return { name: known, format: FORMATS[known] };
  if (formats.length > 0) throw new Fault('SUBPROTOCOL_UNKNOWN', { offered: formats.slice(0, 4).join(', ').slice(0, 100) });
  return { format: 'proto' };
}

function tokenOf(headers: IncomingHttpHeaders): string | undefined {
  const bearer = /^Bearer +(\S+)$/i.exec(headers.authorization ?? '');
  if (bearer !== null) return bearer[1];
  const carried = offered(headers).find((name) => name.startsWith(TOKEN_PREFIX));
  return carried === undefined ? undefined : Buffer.from(carried.slice(TOKEN_PREFIX.length), 'base64url').toString('utf8');
}

function isLoopback(address: string): boolean {
  return address === '::1' || address.startsWith('127.') || address.startsWith('::ffff:127.');
}
