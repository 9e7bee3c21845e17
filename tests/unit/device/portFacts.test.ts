// What the system knows of ports, read from a tree that is laid out as Linux lays out /sys, /dev, /proc and /run
// (Documentation/ABI/testing/sysfs-tty and sysfs-bus-usb; udev(7)).
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { listPorts, portAt } from '../../../src/device/portFacts.js';

let root: string;
const write = (path: string, text: string): void => {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
};
const link = (path: string, to: string): void => {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  symlinkSync(join(root, to), join(root, path));
};

/** A USB adapter as the kernel shows it. */
function adapter(name: string, minor: number, serial: string, latency?: number): void {
  const usb = `sys/devices/usb1/1-${minor}`;
  const device = `${usb}/1-${minor}:1.0/${name}`;
  write(`${usb}/idVendor`, '1234\n');
  write(`${usb}/idProduct`, '5678\n');
  write(`${usb}/product`, 'Serial Bridge\n');
  if (serial !== '') write(`${usb}/serial`, `${serial}\n`);
  if (latency !== undefined) write(`${device}/latency_timer`, `${latency}\n`);
  else mkdirSync(join(root, device), { recursive: true });
  mkdirSync(join(root, 'sys/bus/usb-serial/drivers/bridge'), { recursive: true });
  symlinkSync(join(root, 'sys/bus/usb-serial/drivers/bridge'), join(root, device, 'driver'));
  link(`sys/class/tty/${name}/device`, device);
  write(`sys/class/tty/${name}/dev`, `188:${minor}\n`);
  write(`dev/${name}`, '');
  link(`dev/serial/by-path/pci-usb-0:${minor}:1.0-port0`, `dev/${name}`);
}

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'leeway-sys-'));
  write('sys/class/tty/console/active', 'tty0\n');
});
afterEach(() => rmSync(root, { recursive: true }));
const codes = (): string[][] => listPorts(root).map(({ findings }) => findings.map(({ code }) => code));

describe('ports', () => {
  test('none; consoles and ports without a device are none', () => {
    write('sys/class/tty/tty1/dev', '4:1\n');
    write('sys/class/tty/ttyS0/type', '0\n');
    write('sys/devices/platform/serial8250/x', '');
    link('sys/class/tty/ttyS0/device', 'sys/devices/platform/serial8250');
    expect(listPorts(root)).toEqual([]);
  });

  test('an adapter: what it is, its stable names, nothing to find', () => {
    adapter('ttyUSB0', 0, 'A1B2');
    link('dev/serial/by-id/usb-Serial_Bridge_A1B2-if00-port0', 'dev/ttyUSB0');
    expect(listPorts(root)).toMatchObject([
      {
        path: '/dev/ttyUSB0',
        adapter: 'Serial Bridge (1234:5678, serial number A1B2)',
        driver: 'bridge',
        byId: ['/dev/serial/by-id/usb-Serial_Bridge_A1B2-if00-port0'],
        byPath: ['/dev/serial/by-path/pci-usb-0:0:1.0-port0'],
        isAllowed: true,
        findings: [],
      },
    ]);
  });

  test('a UART of the board with the kernel console on it', () => {
    write('sys/devices/platform/uart/x', '');
    link('sys/class/tty/ttyAMA0/device', 'sys/devices/platform/uart');
    write('dev/ttyAMA0', '');
    write('sys/class/tty/console/active', 'tty0 ttyAMA0\n');
    expect(codes()).toEqual([['PORT_CONSOLE']]);
  });

  test.each([
    { timer: 16, found: ['PORT_BATCHED'] },
    { timer: 1, found: [] },
  ])('a latency timer of $timer ms', ({ timer, found }) => {
    adapter('ttyUSB0', 0, 'A1B2', timer);
    expect(codes()).toEqual([found]);
    expect(listPorts(root)[0].latency).toBeCloseTo(timer / 1000, 9);
  });

  test('two adapters with one serial number, and two without any; not two with their own', () => {
    adapter('ttyUSB0', 0, '0001');
    adapter('ttyUSB1', 1, '0001');
    adapter('ttyUSB10', 10, '0002');
    expect(codes()).toEqual([['PORT_NAME_SHARED'], ['PORT_NAME_SHARED'], []]);
    adapter('ttyUSB2', 2, '');
    adapter('ttyUSB3', 3, '');
    expect(codes()).toEqual([
      ['PORT_NAME_SHARED'],
      ['PORT_NAME_SHARED'],
      ['PORT_NAME_SHARED'],
      ['PORT_NAME_SHARED'],
      [],
    ]);
  });

  test('a service that probes, and one that is told off as deploy/60-leeway.rules does it', () => {
    adapter('ttyUSB0', 0, 'A1B2');
    write('proc/400/comm', 'ModemManager\n');
    expect(codes()).toEqual([['PORT_PROBED']]);
    write('run/udev/data/c188:0', 'E:ID_BUS=usb\nE:ID_MM_DEVICE_IGNORE=1\n');
    expect(codes()).toEqual([[]]);
  });

  test('a path that is not there, and one that the system does not list', () => {
    expect(() => portAt(join(root, 'dev/none'))).toThrow('there is no serial port');
    write('dev/odd', '');
    expect(portAt(join(root, 'dev/odd'))).toMatchObject({ path: join(root, 'dev/odd'), isAllowed: true, findings: [] });
  });
});
