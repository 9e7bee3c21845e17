import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';
import { isIP } from 'node:net';
import { Fault } from '../core/fault.js';
import type { Format, Role } from './feedSource.js';

/** What the server needs of the configuration. */
export interface ServerSetting {
  readonly tokens: readonly Readonly<{ role: Role; sha256: string }>[];
  /** Host names under which the page may be opened, beside addresses and localhost. */
  readonly names: readonly string[];
  readonly clientsMax: number;
}

const SUBPROTOCOLS: Readonly<Record<string, Format>> = { 'leeway.v1.proto': 'proto', 'leeway.v1.json': 'json' };
const TOKEN_CARRIER = 'leeway.token.';
const LOOPBACK = /^(127\.\d+\.\d+\.\d+|::1|::ffff:127\.\d+\.\d+\.\d+)$/; // RFC 6890; the last as a dual-stack socket names it
const HOST = /^(?:\[([\da-f:.]+)\]|([^:[\]]+))(?::\d{1,5})?$/i; // RFC 3986, 3.2.2: an IPv6 address stands in brackets

/** Decides who comes in: by the name the page was opened under, by the page that asks, by token. */
export class Doors {
  readonly #tokens: readonly Readonly<{ role: Role; digest: Buffer }>[];
  readonly #names: ReadonlySet<string>;

  constructor({ tokens, names }: ServerSetting) {
    this.#tokens = tokens.map(({ role, sha256 }) => ({ role, digest: Buffer.from(sha256, 'hex') }));
    this.#names = new Set(['localhost', ...names.map((name) => name.toLowerCase())]);
  }

  /**
   * A page of another site can have its own name resolve to this machine and so become "same origin": only names that were
   * agreed on are answered.
   * @throws {Fault} HOST_FOREIGN.
   */
  checkHost({ host = '' }: IncomingHttpHeaders): void {
    const [, ipv6, name = ''] = HOST.exec(host) ?? [];
    const isKnown = ipv6 === undefined ? isIP(name) === 4 || this.#names.has(name.toLowerCase()) : isIP(ipv6) === 6;
    if (!isKnown) throw new Fault('HOST_FOREIGN', { host: host.slice(0, 100) });
  }

  /** Browsers name the page that asks; other programs do not and come in. @throws {Fault} ORIGIN_FOREIGN. */
  checkOrigin({ host = '', origin }: IncomingHttpHeaders): void {
    if (origin === undefined) return;
    if (!URL.canParse(origin)) throw new Fault('ORIGIN_FOREIGN', { origin: origin.slice(0, 100) }); // `null`: a page without one
    const page = new URL(origin);
    const isHttp = page.protocol === 'http:' || page.protocol === 'https:';
    const own = `${page.protocol}//${host}`;
    // through URL, since the browser leaves the scheme's own port out of Origin
    if (isHttp && URL.canParse(own) && page.host === new URL(own).host) return;
    throw new Fault('ORIGIN_FOREIGN', { origin: origin.slice(0, 100) });
  }

  /**
   * @param remote the client's address.
   * @returns what the client may do; where no tokens are configured, a client on this machine may do everything.
   * @throws {Fault} TOKEN_WRONG.
   */
  roleOf(headers: IncomingHttpHeaders, remote: string): Role {
    if (this.#tokens.length === 0) {
      if (LOOPBACK.test(remote)) return 'admin';
      throw new Fault('TOKEN_WRONG', { reason: 'no tokens are configured' });
    }
    const token = bearerOf(headers) ?? carriedToken(headers);
    if (token === undefined) throw new Fault('TOKEN_WRONG', { reason: 'missing' });
    const digest = createHash('sha256').update(token).digest();
    let role: Role | undefined;
    for (const known of this.#tokens) if (timingSafeEqual(known.digest, digest)) role ??= known.role; // all of them: the time tells nothing
    if (role === undefined) throw new Fault('TOKEN_WRONG', { reason: 'not known' });
    return role;
  }
}

/**
 * @returns the subprotocol to answer with and how messages are written; no name where the client offered none beside its token.
 * @throws {Fault} SUBPROTOCOL_UNKNOWN.
 */
export function chooseFormat(headers: IncomingHttpHeaders): Readonly<{ name?: string; format: Format }> {
  const offered = offers(headers).filter((offer) => !offer.startsWith(TOKEN_CARRIER));
  if (offered.length === 0) return { format: 'proto' };
  for (const name of offered) {
    if (Object.hasOwn(SUBPROTOCOLS, name)) return { name, format: SUBPROTOCOLS[name] };
  }
  throw new Fault('SUBPROTOCOL_UNKNOWN', { offered: offered.join(', ').slice(0, 100) });
}

function offers(headers: IncomingHttpHeaders): string[] {
  return (headers['sec-websocket-protocol'] ?? '')
    .split(',')
    .map((offer) => offer.trim())
    .filter((offer) => offer !== '');
}

function bearerOf({ authorization = '' }: IncomingHttpHeaders): Buffer | undefined {
  const [, token] = /^Bearer +(\S+) *$/i.exec(authorization) ?? []; // RFC 6750, 2.1
  return token === undefined ? undefined : Buffer.from(token);
}

function carriedToken(headers: IncomingHttpHeaders): Buffer | undefined {
  const carrier = offers(headers).find((offer) => offer.startsWith(TOKEN_CARRIER));
  return carrier === undefined ? undefined : Buffer.from(carrier.slice(TOKEN_CARRIER.length), 'base64url');
}
