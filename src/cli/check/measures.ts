import { aimOf, backgroundOf, boxBefore } from '../../bringup/aim.js';
import { levelOf } from '../../bringup/level.js';
import { settledSweeps } from '../../bringup/look.js';
import { isCovered, masksOf } from '../../bringup/mask.js';
import { median } from '../../bringup/quantile.js';
import { pairOf, tapeOf } from '../../bringup/tape.js';
import type { Config } from '../../config/config.js';
import type { Setting } from '../../config/write.js';
import { TAU, wrapAngle } from '../../core/angles.js';
import { Fault } from '../../core/fault.js';
import type { SensorSetting } from '../../device/setting.js';
import { DEFAULT_NOISE } from '../../estimate/noise.js';
import { Outline } from '../../geometry/outline.js';
import type { Sweep } from '../../sweep/sweep.js';
import type { Bench } from './bench.js';
import type { Guide } from './guide.js';
import { turnedBy } from './turned.js';

/** What a guided measurement found. */
export interface Measured {
  /** For people, a sentence a line. */
  readonly lines: readonly string[];
  /** The same as data, units in the names. */
  readonly values: Readonly<Record<string, unknown>>;
  /** What the configuration says otherwise: gone once `settings` are stored. */
  readonly off: Fault | undefined;
  /** What stays to be done all the same. */
  readonly findings: readonly Fault[];
  readonly settings: readonly Setting[];
}

/** A guided measurement at the bench. */
export interface Measure {
  readonly name: 'aim' | 'level' | 'mask' | 'tape';
  readonly steps: number;
  /** How the sensor is opened for it: what is to be found must not be corrected already. */
  readonly setting: SensorSetting;
  run(bench: Bench, guide: Guide): Promise<Measured>;
}

const DEGREE = Math.PI / 180;
const AIM_SECONDS = 3;
const MASK_SECONDS = 4;
const TAPE_SECONDS = 4;
const LEVEL_SECONDS = 30;
/** rad: less is no turn once around, even for walls that are badly seen. */
const TURN_LEAST = 270 * DEGREE;
/** The configuration agrees with what was found within these: rad, rad, m, 1. */
const AIM_AGREES = DEGREE;
const LEVEL_AGREES = 0.5 * DEGREE;
const OFFSET_AGREES = 0.005;
const SCALE_AGREES = 0.005;

const inDegrees = (angle: number): string => `${(angle / DEGREE).toFixed(1)} degrees`;
const round = (value: number, digits = 4): number => Number(value.toFixed(digits));
const gather = async (bench: Bench, seconds: number): Promise<readonly Sweep[]> => {
  const look = await bench.look(seconds);
  const sweeps = settledSweeps(look);
  if (sweeps.length === 0) throw new Fault('STEP_UNCLEAR', { text: 'no whole revolution came' });
  return sweeps;
};

/** `check --aim`: a box ahead, then to the left. */
export function aimMeasure({ sensor }: Config): Measure {
  const { mount } = sensor;
  const neutral = { ...mount, yaw: 0, upsideDown: false };
  return {
    name: 'aim',
    steps: 3,
    setting: { ...sensor, mount: neutral, masks: [] },
    run: async (bench, guide) => {
      await guide.step('Free 1.5 m ahead of the rover and to its left, and stand back behind it.');
      const background = backgroundOf(await gather(bench, AIM_SECONDS));
      await guide.step(
        "Put a box, some 30 cm wide and as high as the sensor, 1 m straight ahead of the rover's origin, and stand back.",
      );
      const ahead = boxBefore(background, await gather(bench, AIM_SECONDS));
      await guide.step('Put the same box 1 m straight to the left of the origin, and stand back.');
      const left = boxBefore(background, await gather(bench, AIM_SECONDS));
      const { yaw, upsideDown, doubt } = aimOf(ahead, left, mount);
      const away = wrapAngle(yaw - mount.yaw);
      const isOff = Math.abs(away) > AIM_AGREES || upsideDown !== mount.upsideDown;
      const mirror = upsideDown ? 'mirrored, as mounted head down' : 'not mirrored';
      return {
        lines: [
          `The sensor is turned by ${inDegrees(yaw)} to the left (yaw_rad ${round(yaw)}) and ${mirror}.`,
          `The box to the left was ${inDegrees(Math.abs(doubt))} from where this puts it.`,
        ],
        values: { yaw_rad: round(yaw), upside_down: upsideDown, doubt_rad: round(doubt) },
        off: isOff
          ? new Fault('AIM_OFF', {
              text: `the sensor is turned by ${inDegrees(yaw)} and ${mirror}; the configuration says ${inDegrees(mount.yaw)}${mount.upsideDown ? ', head down' : ''}`,
            })
          : undefined,
        findings: [],
        settings: [
          { path: ['sensor', 'mount', 'yaw_rad'], value: round(yaw) },
          { path: ['sensor', 'mount', 'upside_down'], value: upsideDown },
        ],
      };
    },
  };
}

/** `check --mask`: what of the rover its own sensor sees. */
export function maskMeasure({ sensor, rover }: Config): Measure {
  return {
    name: 'mask',
    steps: 1,
    setting: { ...sensor, masks: [] },
    run: async (bench, guide) => {
      await guide.step(
        'Free 1 m all around the rover, put everything on it that it carries when it drives, and stand back.',
      );
      const sweeps = await gather(bench, MASK_SECONDS);
      const masks = masksOf(sweeps, new Outline(rover.outline), sensor);
      const step = median(sweeps.map(({ count }) => TAU / count));
      const rows = masks.map(({ from, to, upTo }) => ({
        from_rad: round(from),
        to_rad: round(to),
        up_to_m: round(upTo, 3),
      }));
      const covered = isCovered(masks, sensor.masks, step);
      return {
        lines:
          masks.length === 0
            ? ['Nothing of the rover is seen: no mask is needed.']
            : masks.map(
                ({ from, to, upTo }) =>
                  `The rover is seen from ${inDegrees(from)} to ${inDegrees(to)}, up to ${upTo.toFixed(2)} m.`,
              ),
        values: { masks: rows },
        off: covered
          ? undefined
          : new Fault('MASKS_OFF', {
              text: `the sensor sees the rover in ${masks.length} places; the ${sensor.masks.length} masks of the configuration do not cover them`,
            }),
        findings: [],
        settings: [{ path: ['sensor', 'masks'], value: rows }],
      };
    },
  };
}

/** `check --tape`: ranges against a tape. @param tapes m, one or more. @param bearing rad, rover axes. */
export function tapeMeasure({ sensor }: Config, tapes: readonly number[], bearing: number): Measure {
  return {
    name: 'tape',
    steps: tapes.length,
    setting: { ...sensor, range: { offset: 0, scale: 1 } },
    run: async (bench, guide) => {
      const pairs = [];
      for (const tape of tapes) {
        await guide.step(
          `Put a flat, light, matt board ${tape.toFixed(3)} m from the sensor's axis at ${inDegrees(bearing)} to the left of ahead, square to the beam, and stand back.`,
        );
        pairs.push(pairOf(tape, await gather(bench, TAPE_SECONDS), bearing));
      }
      const { offset, scale, offsetSd, scaleSd } = tapeOf(pairs);
      const { range } = sensor;
      const isOff = pairs.some(
        ({ tape, measured }) =>
          Math.abs(range.scale * measured + range.offset - tape) > OFFSET_AGREES + SCALE_AGREES * tape,
      );
      const worst = pairs.map(({ tape, measured }) => `${measured.toFixed(4)} m for ${tape.toFixed(3)} m`).join(', ');
      return {
        lines: [
          `The sensor says ${worst}.`,
          `Offset ${(1000 * offset).toFixed(1)} mm, standard deviation ${(1000 * offsetSd).toFixed(1)} mm.`,
          Number.isNaN(scaleSd)
            ? 'Scale not measured: give --tape twice, with distances half a metre apart or more.'
            : `Scale ${scale.toFixed(5)}, standard deviation ${scaleSd.toFixed(5)}.`,
        ],
        values: {
          offset_m: round(offset, 5),
          offset_sd_m: round(offsetSd, 5),
          scale: round(scale, 6),
          ...(!Number.isNaN(scaleSd) && { scale_sd: round(scaleSd, 6) }),
          pairs: pairs.map(({ tape, measured, sd }) => ({
            tape_m: tape,
            measured_m: round(measured, 5),
            sd_m: round(sd, 5),
          })),
        },
        off: isOff
          ? new Fault('TAPE_OFF', {
              text: `with the correction of the configuration ranges differ from the tape: raw ${worst}`,
            })
          : undefined,
        findings: [],
        settings: [
          { path: ['sensor', 'range', 'offset_m'], value: round(offset) },
          { path: ['sensor', 'range', 'scale'], value: round(scale, 5) },
        ],
      };
    },
  };
}

/** `check --level`: pitch and roll from where the beam meets the floor. @param seconds of turning. */
export function levelMeasure({ sensor }: Config, seconds = LEVEL_SECONDS): Measure {
  const { mount, reach } = sensor;
  return {
    name: 'level',
    steps: 1,
    setting: sensor,
    run: async (bench, guide) => {
      await guide.step(
        `Put the rover on an even floor with room around it, the sensor ${mount.z.toFixed(3)} m above the floor (sensor.mount.z_m). After Enter turn it on the spot, slowly, at least once around within ${seconds} s.`,
      );
      guide.say('Turn now.');
      const sweeps = await gather(bench, seconds);
      const found = levelOf(sweeps, mount.z, reach[1], DEFAULT_NOISE);
      const turned = turnedBy(sweeps, found, { x: mount.x, y: mount.y, reach, noise: DEFAULT_NOISE });
      if (turned < TURN_LEAST)
        throw new Fault('STEP_UNCLEAR', {
          text: `by its walls the rover turned ${(turned / DEGREE).toFixed(0)} degrees; turn it once around, on the spot`,
        });
      if (found.kind === 'level') {
        const line = `No beam ends at the floor: the tilt is less than ${inDegrees(found.bound)} any way.`;
        const isOff = Math.hypot(mount.pitch, mount.roll) > found.bound;
        return {
          lines: [line, 'A wider room tells it more finely.'],
          values: { tilt_most_rad: round(found.bound) },
          off: isOff ? new Fault('LEVEL_OFF', { text: `${line} The configuration says more.` }) : undefined,
          findings: [],
          settings: [
            { path: ['sensor', 'mount', 'pitch_rad'], value: 0 },
            { path: ['sensor', 'mount', 'roll_rad'], value: 0 },
          ],
        };
      }
      const { pitch, roll, sd, bearing, range } = found;
      const where = `${range.toFixed(2)} m at ${inDegrees(bearing)} to the left of ahead`;
      const isOff = Math.hypot(pitch - mount.pitch, roll - mount.roll) > LEVEL_AGREES;
      const tilt = `pitch ${inDegrees(pitch)} (nose down), roll ${inDegrees(roll)} (left side up)`;
      return {
        lines: [
          `The sensor is tilted: ${tilt}, standard deviation ${inDegrees(sd)}, for a height of ${mount.z.toFixed(3)} m.`,
          `Beam and floor meet at ${where}.`,
        ],
        values: {
          pitch_rad: round(pitch),
          roll_rad: round(roll),
          sd_rad: round(sd, 5),
          floor_m: round(range, 3),
          floor_bearing_rad: round(bearing),
        },
        off: isOff ? new Fault('LEVEL_OFF', { text: `the sensor is tilted: ${tilt}` }) : undefined,
        findings: [
          new Fault('FLOOR_NEAR', {
            text: `the beam meets the floor at ${where}: it sees nothing beyond, and takes the floor for a thing`,
            range_m: round(range, 3),
            bearing_rad: round(bearing),
          }),
        ],
        settings: [
          { path: ['sensor', 'mount', 'pitch_rad'], value: round(pitch) },
          { path: ['sensor', 'mount', 'roll_rad'], value: round(roll) },
        ],
      };
    },
  };
}
