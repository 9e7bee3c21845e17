import { accessSync, constants, readdirSync, readFileSync, realpathSync } from 'node:fs';
import { Fault } from '../core/fault.js';
import { findHolder, owningGroup, type PortHolder } from './portHolder.js';

/** What the system knows of a serial port. */
export interface PortFacts {
  /** Such as /dev/ttyUSB0. */
  readonly path: string;
  /** What the adapter calls itself, with its numbers; undefined where it is no USB adapter. */
  readonly adapter?: string;
  readonly driver?: string;
  /** Names that stay the same after replugging: by what the adapter is, and by the socket it is in. */
  readonly byId: readonly string[];
  readonly byPath: readonly string[];
  readonly group?: string;
  readonly isAllowed: boolean;
  readonly holder?: PortHolder;
  /** s, that the adapter may hold bytes back. */
  readonly latency?: number;
  readonly findings: readonly Fault[];
}

/** s: an adapter that holds bytes no longer than this adds nothing that matters. */
const LATENCY_MOST = 0.004;
/** Services that open fresh serial ports to see whether a modem answers, and what a device rule sets to keep them off. */
const PROBERS = [{ comm: 'ModemManager', toldOff: /^E:ID_MM_(?:DEVICE|PORT)_IGNORE=1$/m }] as const;

/**
 * Every serial port of this machine that has a device behind it, by name.
 * @param root where /sys, /proc, /dev and /run are; for tests.
 * @source Linux: Documentation/ABI/testing/sysfs-tty (type 0 is no UART), sysfs-bus-usb (idVendor and others); the
 *   latency_timer is an attribute of the usb-serial device; udev keeps its properties in /run/udev/data/cMAJOR:MINOR.
 */
export function listPorts(root = ''): PortFacts[] {
  const sys = `${root}/sys/class/tty`;
  const found = list(sys)
    .filter((name) => real(`${sys}/${name}/device`) !== undefined && read(`${sys}/${name}/type`) !== '0')
    .sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))
    .map((name) => ({ name, usb: usbOf(`${sys}/${name}/device`) }));
  return found.map(({ name, usb }) => {
    const twins = found.filter(
      (other) => other.name !== name && other.usb !== undefined && other.usb.identity === usb?.identity,
    );
    return factsOf(root, name, usb, twins.length > 0);
  });
}

/** @returns what can be told of a path that the system does not list, such as a pseudo-terminal. @throws {Fault} PORT_MISSING. */
export function portAt(path: string): PortFacts {
  const device = real(path);
  if (device === undefined) throw new Fault('PORT_MISSING', { port: path, text: `there is no serial port ${path}` });
  const known = listPorts().find((port) => real(port.path) === device);
  if (known !== undefined) return known;
  return { path, byId: [], byPath: [], ...access(path), findings: [] };
}

interface Usb {
  readonly identity: string;
  readonly text: string;
}

function usbOf(device: string): Usb | undefined {
  let folder = real(device) ?? '';
  for (let depth = 0; depth < 6 && folder.length > 1; depth++) {
    const vendor = read(`${folder}/idVendor`);
    if (vendor !== undefined) {
      const product = read(`${folder}/idProduct`) ?? '';
      const serial = read(`${folder}/serial`) ?? '';
      const name = [read(`${folder}/manufacturer`), read(`${folder}/product`)].filter(Boolean).join(' ');
      const numbers = `${vendor}:${product}${serial && `, serial number ${serial}`}`;
      return { identity: `${vendor}:${product}:${serial}`, text: name === '' ? numbers : `${name} (${numbers})` };
    }
    folder = folder.slice(0, folder.lastIndexOf('/'));
  }
  return undefined;
}

function factsOf(root: string, name: string, usb: Usb | undefined, isShared: boolean): PortFacts {
  const sys = `${root}/sys/class/tty`;
  const device = `${root}/dev/${name}`;
  const path = `/dev/${name}`;
  const driver = real(`${sys}/${name}/device/driver`)?.split('/').at(-1);
  const links = (folder: string): string[] =>
    list(`${root}${folder}`)
      .filter((link) => real(`${root}${folder}/${link}`) === real(device))
      .map((link) => `${folder}/${link}`);
  const timer = Number(read(`${sys}/${name}/device/latency_timer`) ?? NaN);
  const latency = timer / 1000; // the attribute is in ms
  const findings: Fault[] = [];
  if (latency > LATENCY_MOST) {
    const text = `the adapter at ${path} holds bytes back for up to ${timer} ms`;
    findings.push(new Fault('PORT_BATCHED', { text, port: path, latency_s: latency }));
  }
  if ((read(`${sys}/console/active`) ?? '').split(/\s+/).includes(name))
    findings.push(new Fault('PORT_CONSOLE', { text: `the kernel has its console on ${path}`, port: path }));
  if (isShared) {
    const text = `another adapter calls itself the same as that at ${path}: their names under by-id are not certain`;
    findings.push(new Fault('PORT_NAME_SHARED', { text, port: path }));
  }
  const prober = usb && proberOf(root, read(`${sys}/${name}/dev`) ?? '');
  if (prober !== undefined) {
    const text = `${prober} runs and is not told to leave ${path} alone: it talks to the sensor after each plugging in`;
    findings.push(new Fault('PORT_PROBED', { text, port: path, service: prober }));
  }
  return {
    path,
    ...(usb && { adapter: usb.text }),
    ...(driver !== undefined && { driver }),
    byId: links('/dev/serial/by-id'),
    byPath: links('/dev/serial/by-path'),
    ...access(device),
    ...(timer >= 0 && { latency }),
    findings,
  };
}

function proberOf(root: string, number: string): string | undefined {
  const properties = read(`${root}/run/udev/data/c${number}`) ?? '';
  const running = new Set(
    list(`${root}/proc`)
      .filter((name) => /^\d+$/.test(name))
      .map((pid) => read(`${root}/proc/${pid}/comm`)),
  );
  return PROBERS.find(({ comm, toldOff }) => running.has(comm) && !toldOff.test(properties))?.comm;
}

function access(device: string): Pick<PortFacts, 'group' | 'isAllowed' | 'holder'> {
  const group = owningGroup(device);
  const holder = findHolder(device);
  const isAllowed = attempt(() => accessSync(device, constants.R_OK | constants.W_OK)) !== undefined;
  return { isAllowed, ...(group !== undefined && { group }), ...(holder !== undefined && { holder }) };
}

const read = (path: string): string | undefined => attempt(() => readFileSync(path, 'utf8').trim())?.value;
const real = (path: string): string | undefined => attempt(() => realpathSync(path))?.value;
const list = (path: string): string[] => attempt(() => readdirSync(path))?.value ?? [];

/** Devices come and go, and some are not ours to look at: what cannot be read is not there. */
function attempt<T>(look: () => T): { readonly value: T } | undefined {
  try {
    return { value: look() };
  } catch {
    return undefined;
  }
}
