import type { Fault } from '../core/fault.js';

/** What a port tells while it is open. */
export interface PortListener {
  /** Bytes as they came. `at`: s, Clock time of arrival, taken first thing. The chunk is a view that the callee must not keep. */
  bytes(chunk: Readonly<Uint8Array>, at: number): void;
  /** The port is closed and says nothing more; `fault` where nobody asked for it. */
  closed(fault?: Fault): void;
}

/** The modem lines as the port should drive them: true = asserted. */
export interface LineStates {
  readonly dtr: boolean;
  readonly rts: boolean;
}

/** A line to a sensor: a serial port, the simulator, a recorded run. One listener; it can be opened again after `closed`. */
export interface Port {
  /** For people and logs, such as /dev/ttyUSB0. */
  readonly name: string;
  /** @throws {Fault} PORT_MISSING, PORT_BUSY, PORT_NO_PERMISSION, PORT_OPEN_FAILED. */
  open(listener: PortListener): Promise<void>;
  /** Drives both lines. @returns false where the port has no such lines. @throws {Fault} PORT_LOST. */
  setLines(lines: LineStates): Promise<boolean>;
  /** Resolves when the bytes have left. @throws {Fault} PORT_LOST. */
  write(bytes: Readonly<Uint8Array>): Promise<void>;
  /** Idempotent; never throws. */
  close(): Promise<void>;
}
