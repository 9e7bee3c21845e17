/**
 * Every code the project tells a person, in one place: what went wrong and what to do.
 * A code is never renamed; each has a row in deploy/FAULTS.md (tests/unit/core/catalogue.test.ts compares both ways).
 * `retry` says whether trying the same thing again can help without anybody doing something.
 */
const catalogue = {
  ADDRESS_BAD: {
    retry: false,
    text: 'the address to listen on does not exist on this machine',
    remedy: 'Set server.host to an address of this machine, or to 127.0.0.1.',
  },
  ADDRESS_NO_PERMISSION: {
    retry: false,
    text: 'no permission to listen on that port',
    remedy: 'Set server.port to 1024 or above.',
  },
  ADDRESS_TAKEN: {
    retry: false,
    text: 'the address to listen on is in use',
    remedy: 'Stop the other program (ss -ltnp shows it) or set server.port to a free one.',
  },
  AIM_OFF: {
    retry: true,
    text: 'the sensor looks elsewhere than the configuration says',
    remedy: 'Store what was found: give --write FILE with check --aim.',
  },
  BASELINE_UNREADABLE: {
    retry: false,
    text: 'the baseline report cannot be read',
    remedy: 'Set sensor.baseline to a report that check --report wrote, or take the key out.',
  },
  BASELINE_WORSE: {
    retry: true,
    text: 'the sensor is worse than at bring-up',
    remedy: 'Clean its window, look at supply, cable and mounting; where it is meant to be so, write a new report.',
  },
  BAUD_WRONG: {
    retry: true,
    text: 'the sensor sends at another baud rate',
    remedy: 'Set sensor.baud to the rate that is named, or let check --write FILE do it.',
  },
  BLIND_RING: {
    retry: true,
    text: 'a thing close beside the rover is too near for the sensor to see',
    remedy: 'Move the sensor inwards; else keep people away there, since what stands in the ring is not seen.',
  },
  BODY_SEEN: {
    retry: true,
    text: "the rover's own body is in the beam's way",
    remedy: 'Free the beam, or learn the masks with check --mask --write FILE.',
  },
  BROWSER_MISSING: {
    retry: false,
    text: 'there is no browser to print with',
    remedy: 'Install chromium, or open the page and print it from there.',
  },
  BYTES_SKIPPED: {
    retry: true,
    text: 'many bytes of the sensor could not be read',
    remedy: 'Check baud rate, cable and ground; keep the cable away from the motor supply.',
  },
  BYTES_TEXT: {
    retry: true,
    text: 'the port speaks text, as a console or another device does',
    remedy: 'Choose the port of the sensor (leeway ports lists them); switch a console on it off.',
  },
  CLIENTS_FULL: {
    retry: true,
    text: 'as many clients are connected as the configuration allows',
    remedy: 'Close a client or raise server.clients_max.',
  },
  CLOCK_STEPPED: {
    retry: true,
    text: 'the wall clock was set while the daemon ran',
    remedy: 'Nothing to do: times keep counting from the start. Restart the daemon to take over the new time.',
  },
  CONFIG_KEY_UNKNOWN: {
    retry: false,
    text: 'unknown key in the configuration',
    remedy: 'Correct the key; the nearest known one is named.',
  },
  CONFIG_UNREADABLE: {
    retry: false,
    text: 'the configuration file cannot be read',
    remedy: 'Check the path and its permissions.',
  },
  CONFIG_VALUE_BAD: {
    retry: false,
    text: 'a value in the configuration is out of its limits',
    remedy: 'Correct the value; its limits are named.',
  },
  CONFIG_YAML_BAD: {
    retry: false,
    text: 'the configuration is not valid YAML',
    remedy: 'Correct the line that is named; indent with spaces.',
  },
  DAEMON_SILENT: {
    retry: true,
    text: 'the daemon did not answer',
    remedy: 'Check --url, that the daemon runs, and that the token may drive.',
  },
  DRIVE_IGNORED: {
    retry: true,
    text: 'a client tries to drive a rover that is not simulated',
    remedy: 'Send drive commands to the controller of the rover; Leeway drives the simulated one only.',
  },
  ECHOES_FEW: {
    retry: true,
    text: 'fewer samples come than the layout promises',
    remedy: 'Check sensor.layout and sensor.baud; look for a second program that reads the port.',
  },
  ENUM_UNKNOWN: {
    retry: false,
    text: 'the message names an enum value that is not known',
    remedy: 'Use the names of proto/leeway/v1.',
  },
  FLOOR_NEAR: {
    retry: true,
    text: 'the beam meets the floor within its reach',
    remedy: 'Level the sensor with washers, or set the far end of sensor.reach_m below the range that is named.',
  },
  HOST_FOREIGN: {
    retry: false,
    text: 'the daemon does not know the name it was asked by',
    remedy: 'Open it by its address or as localhost, or add the name to server.names.',
  },
  INPUT_LINE_BAD: {
    retry: false,
    text: 'a line of the input is not a sweep',
    remedy: 'Correct the line that is named; the README shows the form.',
  },
  INPUT_UNREADABLE: { retry: false, text: 'the input cannot be read', remedy: 'Check the path and its permissions.' },
  LAYOUT_BAD: {
    retry: false,
    text: 'the layout file contradicts itself',
    remedy: 'Correct the key that is named; deploy/LAYOUT.md works through an example.',
  },
  LAYOUT_NOT_FOUND: {
    retry: false,
    text: 'no wire layout of that name',
    remedy: 'Set sensor.layout to one of the names that are listed.',
  },
  LAYOUT_NOT_LOCKED: {
    retry: true,
    text: 'bytes arrive but do not fit the layout',
    remedy: 'Check sensor.baud and sensor.layout against the datasheet of the sensor.',
  },
  LAYOUT_OPTION_BAD: {
    retry: false,
    text: 'the layout has no such option, or not with that value',
    remedy: 'Correct sensor.layout_options; what the layout offers is named.',
  },
  LAYOUT_OTHER: {
    retry: true,
    text: 'the bytes are of another layout',
    remedy: 'Set sensor.layout to the layout that is named, or let check --write FILE do it.',
  },
  LEVEL_OFF: {
    retry: true,
    text: 'the sensor is tilted otherwise than the configuration says',
    remedy: 'Store what was found: give --write FILE with check --level.',
  },
  LIMIT_EXCEEDED: {
    retry: false,
    text: 'the message is outside the limits',
    remedy: 'Ask for at most 16 wants and rates above 0 and up to 1000 Hz; send at most 1000 messages a second.',
  },
  MASKS_OFF: {
    retry: true,
    text: "the masks do not cover the rover's own body",
    remedy: 'Store what was found: give --write FILE with check --mask.',
  },
  MESSAGE_TOO_BIG: { retry: false, text: 'the message is too big', remedy: 'Send at most 64 kB.' },
  MESSAGE_UNREADABLE: {
    retry: false,
    text: 'the message cannot be read',
    remedy: 'Send one ClientMessage in the subprotocol that was agreed.',
  },
  MOTOR_STILL: {
    retry: true,
    text: 'the sensor answers but sends no samples: its motor does not turn',
    remedy: 'Check the motor supply and the line that switches the motor (DTR at most adapters).',
  },
  NODE_TOO_OLD: {
    retry: false,
    text: 'this Node is too old',
    remedy: 'Run through npm or npx in the project folder (they bring Node 24), or install Node 22.17 or newer.',
  },
  OPTION_OFF: {
    retry: true,
    text: 'straight walls come out bent under an option of the layout',
    remedy: 'Set sensor.layout_options to what is named, or let check --write FILE do it.',
  },
  ORIGIN_FOREIGN: {
    retry: false,
    text: 'the page that asked comes from elsewhere',
    remedy: 'Open the page the daemon serves itself, or add its host name to server.names.',
  },
  OUTPUT_UNWRITABLE: {
    retry: false,
    text: 'the output cannot be written',
    remedy: 'Check the path, its permissions and the free space.',
  },
  PATH_UNKNOWN: {
    retry: false,
    text: 'there is nothing at this path',
    remedy: 'The page is at /, the feeds are at /v1/feeds.',
  },
  PORT_BATCHED: {
    retry: true,
    text: 'the adapter holds bytes back and hands them on in batches',
    remedy: 'Set its latency timer to 1 ms: deploy/60-leeway.rules does it at each plugging in.',
  },
  PORT_BUSY: {
    retry: true,
    text: 'the serial port is held by another program',
    remedy: 'Stop the program that is named; a service that probes modems can be told to leave the port alone.',
  },
  PORT_CONSOLE: {
    retry: true,
    text: 'the kernel has its console on the port',
    remedy: 'Take console=... for this port out of the kernel command line and disable its login service.',
  },
  PORT_LINES_ABSENT: {
    retry: true,
    text: 'the port has no modem lines to switch the motor with',
    remedy: 'Nothing to do if the motor turns; else power it by itself or use an adapter that has DTR.',
  },
  PORT_LOST: {
    retry: true,
    text: 'the serial port went away',
    remedy: 'Plug the sensor in again; check the cable for wiggling.',
  },
  PORT_MISSING: {
    retry: true,
    text: 'there is no such serial port',
    remedy: 'Plug the sensor in; look for the port with ls /dev/serial/by-id and set sensor.port.',
  },
  PORT_NAME_SHARED: {
    retry: true,
    text: 'another adapter has the same stable name',
    remedy: 'Use the name under /dev/serial/by-path and keep the adapter in that socket.',
  },
  PORT_NO_PERMISSION: {
    retry: true,
    text: 'no permission to open the serial port',
    remedy: 'Join the group that owns the port (named) and log in again.',
  },
  PORT_OPEN_FAILED: {
    retry: true,
    text: 'the serial port could not be opened',
    remedy: 'Check sensor.port; unplug the sensor and plug it in again.',
  },
  PORT_PROBED: {
    retry: true,
    text: 'a service that probes fresh ports runs and is not told to leave this one alone',
    remedy: 'Install deploy/60-leeway.rules and plug the sensor in again.',
  },
  PORT_SILENT: {
    retry: true,
    text: 'no bytes come from the sensor',
    remedy: 'Check that sensor is powered, TX and RX are crossed and sensor.baud is right.',
  },
  RANGE_COARSE: {
    retry: true,
    text: 'ranges come in coarse steps',
    remedy: 'Check sensor.layout: its unit may be another; else the sensor is no finer than that.',
  },
  RANGE_NOISY: {
    retry: true,
    text: 'ranges are noisier than a sound sensor makes them',
    remedy: 'Clean the window, keep bright sun off, check the supply; try another wall, matt and light.',
  },
  REQUEST_UNANSWERED: {
    retry: true,
    text: 'the request could not be answered',
    remedy: 'Try again; the log of the daemon tells why.',
  },
  REQUEST_UNREADABLE: {
    retry: false,
    text: 'the request cannot be read',
    remedy: 'Send it as HTTP/1.1 asks; the page is at /, the feeds are at /v1/feeds.',
  },
  RETURNS_MISSING: {
    retry: true,
    text: 'many samples come back without an echo',
    remedy:
      'Look there for glass, black or shiny surfaces, open space or a dirty window: nothing is vouched for there.',
  },
  ROLE_TOO_LOW: {
    retry: false,
    text: 'the role of this client does not allow what it asks for',
    remedy: 'Connect with a token of the role drive or admin.',
  },
  RUNS_PLAYING_FULL: {
    retry: true,
    text: 'as many runs are being played as the daemon takes',
    remedy: 'Close another view of a run and try again.',
  },
  RUN_BUSY: {
    retry: false,
    text: 'the run is being recorded',
    remedy: 'Stop recording first, or take another run.',
  },
  RUN_DAMAGED: {
    retry: false,
    text: 'the file of the run is damaged',
    remedy: 'Try runs check with --repair: it saves what can be read in a new file.',
  },
  RUN_DISK_FULL: {
    retry: true,
    text: 'the disk is full: nothing is recorded any more',
    remedy: 'Delete runs or lower runs.total_max_mb, then start recording again; perception goes on.',
  },
  RUN_EMPTY: {
    retry: false,
    text: 'there is nothing in the run',
    remedy: 'Delete the file; the recording ended before anything was written.',
  },
  RUN_FOREIGN: {
    retry: false,
    text: 'the file is no run',
    remedy: 'Give a file that Leeway recorded, or import sweeps with runs import.',
  },
  RUN_NEWER: {
    retry: false,
    text: 'the run was recorded by a newer version',
    remedy: 'Update Leeway on this machine.',
  },
  RUN_NOT_FOUND: {
    retry: false,
    text: 'there is no such run',
    remedy: 'See runs list; give a name from it or the path of a file.',
  },
  RUN_NOT_RECORDING: {
    retry: true,
    text: 'no run is being recorded',
    remedy: 'Start recording first.',
  },
  RUN_UNWRITABLE: {
    retry: true,
    text: 'the run cannot be written',
    remedy: 'Check the folder of runs.folder, its permissions and its disk; perception goes on.',
  },
  SENSOR_ANSWER_WRONG: {
    retry: true,
    text: 'the sensor does not answer the start command as its layout says',
    remedy: 'Check sensor.layout; switch the sensor off and on.',
  },
  SENSOR_STARTING: {
    retry: true,
    text: 'the sensor is starting',
    remedy: 'Wait: service begins when the spin is steady.',
  },
  SPIN_SLOW: {
    retry: true,
    text: 'the sensor spins too slowly',
    remedy: 'Check the motor supply (at least 4 revolutions/s are needed) and that nothing drags.',
  },
  SPIN_STALLED: {
    retry: true,
    text: 'the sensor repeats one bearing: its motor does not turn',
    remedy: 'Switch the sensor off and on; look for a leaf or a cord in its gap.',
  },
  SPIN_UNSTEADY: {
    retry: true,
    text: 'the sensor spins unevenly',
    remedy: 'Look for hair or a cord on the axle and a cable that drags; check the motor supply.',
  },
  STEP_UNCLEAR: {
    retry: true,
    text: 'the step did not show what it should',
    remedy: 'Do the step again as it is said; keep everything else still.',
  },
  SUBPROTOCOL_UNKNOWN: {
    retry: false,
    text: 'none of the offered subprotocols is known',
    remedy: 'Offer leeway.v1.proto or leeway.v1.json.',
  },
  SUBSCRIBE_LATE: {
    retry: true,
    text: 'no subscribe came within 10 s',
    remedy: 'Send ClientMessage{subscribe} first.',
  },
  SUPPLY_WEAK: {
    retry: true,
    text: 'the spin sags or the sensor starts anew, as with a supply that is too weak',
    remedy: 'Give the motor a supply of its own that can deliver its start current; use a short, thick cable.',
  },
  SWEEP_OVERDUE: {
    retry: true,
    text: 'no complete sweep in time',
    remedy: 'Check that the motor turns and the cable is firm.',
  },
  TAPE_OFF: {
    retry: true,
    text: 'ranges differ from the tape',
    remedy: 'Store what was found: give --write FILE with check --tape.',
  },
  TOKENS_NEEDED: {
    retry: false,
    text: 'an address that others can reach needs tokens',
    remedy: 'Add server.tokens, or set server.host to 127.0.0.1.',
  },
  TOKEN_FILE_UNREADABLE: {
    retry: false,
    text: 'the file with the token cannot be read',
    remedy: 'Check the path and its permissions; it holds the token alone, on one line.',
  },
  TOKEN_WRONG: {
    retry: false,
    text: 'the token is missing or not known here',
    remedy: 'Ask the owner of the rover for a token of the right role.',
  },
  UPGRADE_NEEDED: {
    retry: false,
    text: 'the feeds speak WebSocket',
    remedy: 'Connect with a WebSocket client to ws://HOST:PORT/v1/feeds.',
  },
  USAGE_WRONG: { retry: false, text: 'wrong use', remedy: 'See --help.' },
  WALL_MISSING: {
    retry: true,
    text: 'no flat wall in sight to measure the noise on',
    remedy: 'Place the rover 0.5 to 3 m from a flat, light, matt wall and check again.',
  },
  WANTS_EMPTY: { retry: false, text: 'the subscription names no feed', remedy: 'Name at least one feed in wants.' },
  WORLD_NOT_FOUND: {
    retry: false,
    text: 'no simulated world of that name',
    remedy: 'Set simulator.world to one of the names that are listed, or to the path of a world file.',
  },
} as const satisfies Record<string, { retry: boolean; text: string; remedy: string }>;

export type FaultCode = keyof typeof catalogue;
export type Facts = Readonly<Record<string, string | number | boolean>>;

/** @returns the fixed sentence and the remedy of a code. */
export function explain(code: FaultCode): Readonly<{ text: string; remedy: string }> {
  return catalogue[code];
}

/** @returns every code, sorted. */
export function faultCodes(): readonly FaultCode[] {
  return Object.keys(catalogue).sort() as FaultCode[];
}

/** The world failed. Never thrown for bad bytes (a tally counts those) nor for our own bugs (RangeError, TypeError). */
export class Fault extends Error {
  override readonly name = 'Fault';
  readonly code: FaultCode;
  readonly facts: Facts;
  /** @param facts what was seen, units in the names; `text` in facts, where given, replaces the fixed sentence. */
  constructor(code: FaultCode, facts: Facts = {}, cause?: unknown) {
    super(`${facts.text ?? catalogue[code].text} [${code}]`, { cause });
    this.code = code;
    this.facts = facts;
  }
  get retry(): boolean {
    return catalogue[this.code].retry;
  }
  get remedy(): string {
    return catalogue[this.code].remedy;
  }
}
