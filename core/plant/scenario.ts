import { z } from 'zod';
import { MODES } from '../circuit/types.ts';
import { REFRIGERANT_IDS } from '../refrigerant/types.ts';
import { CHANNEL_KEYS } from '../stream/channels.ts';

/**
 * The scenario file: what the virtual plant is, what happens to it and what is fastened to it.
 * Everything SI: K, Pa absolute, W, kg, m3, s, humidity 0..1. Strict: an unknown key is an error,
 * so that a typing slip cannot silently run the default.
 */

const seconds = z
  .number()
  .min(0)
  .max(7 * 86_400);
const temperature = z.number().min(228.15).max(333.15);
const share = z.number().min(0).max(1);

/** A quantity over time: one number, or points joined by straight lines and held at the ends. */
const over = (value: z.ZodNumber) =>
  z.union([
    value,
    z
      .array(z.tuple([seconds, value]))
      .min(1)
      .refine((points) => points.every((p, i) => i === 0 || p[0] > (points[i - 1]?.[0] ?? 0)), {
        message: 'the times of a course must increase',
      }),
  ]);

const weather = z.strictObject({
  outdoorAir_K: over(temperature),
  outdoorHumidity: over(share).default(0.5),
  /** Wandering of the air at the outdoor coil: standard deviation and correlation time. */
  gust: z
    .strictObject({ sigma_K: z.number().min(0).max(3), time_s: z.number().min(1).max(600) })
    .default({ sigma_K: 0.15, time_s: 40 }),
});

const room = z.strictObject({
  start_K: temperature,
  startHumidity: share.default(0.5),
  /** Air and what follows it within minutes, J/K. */
  airCapacity_J_K: z.number().min(1e5).max(1e8).default(2.5e6),
  /** Walls and furniture, J/K, and their coupling to the air, W/K. */
  massCapacity_J_K: z.number().min(1e5).max(1e9).default(2e7),
  massCoupling_W_K: z.number().min(0).max(1e5).default(900),
  /** Coupling of the masses to the outdoors, W/K. */
  outdoorCoupling_W_K: z.number().min(0).max(1e4).default(220),
  gain_W: over(z.number().min(-2e4).max(5e4)).default(4500),
  moistureGain_kg_s: over(z.number().min(0).max(0.1)).default(6e-4),
  /** Outdoor air leaking in, m3/s. */
  infiltration_m3_s: z.number().min(0).max(2).default(0.03),
  /** Wandering of the return air from place to place in the room. */
  draught: z
    .strictObject({ sigma_K: z.number().min(0).max(2), time_s: z.number().min(1).max(600) })
    .default({ sigma_K: 0.05, time_s: 60 }),
});

const metering = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('txv'),
    /** Capacity fully open over what the rating point needs. Above about 2.5 it tends to hunt. */
    oversize: z.number().min(1.05).max(6).default(1.5),
    bulbLag_s: z.number().min(1).max(120).default(25),
    /** Superheat that takes the valve from shut to fully open, K. */
    band_K: z.number().min(1).max(15).default(8),
    /** Share of the full area that never closes (bleed port); lets pressures equalise at rest. */
    bleed: z.number().min(0).max(0.3).default(0.12),
    /** Maximum operating pressure of the bulb charge, Pa absolute. */
    mop_Pa: z.number().min(1e5).max(3e6).optional(),
  }),
  z.strictObject({
    kind: z.literal('eev'),
    oversize: z.number().min(1.05).max(6).default(2),
    /** Proportional gain (opening per K) and reset time of the controller. */
    gain_per_K: z.number().min(0).max(1).default(0.012),
    reset_s: z.number().min(1).max(2000).default(90),
    period_s: z.number().min(0.2).max(60).default(2),
    sensorLag_s: z.number().min(0.1).max(60).default(6),
  }),
  z.strictObject({ kind: z.literal('fixed') }),
]);

/** The kinds of fault; each has a severity 0 (absent) to 1 (gross). */
export const FAULT_KINDS = [
  'lowCharge',
  'overcharge',
  'lowIndoorAir',
  'fouledOutdoorCoil',
  'liquidLineRestriction',
  'nonCondensables',
  'compressorValveLeak',
  'reversingValveLeak',
  'valveStuck' /* the valve stays where it was when the fault began */,
  'valveStarved' /* the valve passes less than asked */,
  'valveOverfeeding' /* the bulb is loose or warm: the valve passes more than asked */,
  'valveHunting' /* over-large port and slow bulb */,
  'shortCycling' /* the contactor drops out again and again */,
] as const;
/** One of {@link FAULT_KINDS}. */
export type FaultKind = (typeof FAULT_KINDS)[number];

const fault = z.strictObject({
  kind: z.enum(FAULT_KINDS),
  severity: share,
  from_s: seconds.default(0),
  until_s: seconds.optional(),
  /** Time over which it grows to its severity. */
  ramp_s: seconds.default(0),
});

const event = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('start'), at_s: seconds }),
  z.strictObject({ do: z.literal('stop'), at_s: seconds }),
  z.strictObject({ do: z.literal('powerCut'), at_s: seconds, for_s: seconds }),
  /** A door stands open: outdoor air enters at this rate. */
  z.strictObject({
    do: z.literal('door'),
    at_s: seconds,
    for_s: seconds,
    flow_m3_s: z.number().min(0).max(3).default(0.35),
  }),
  /** Indoor fan speed as a share of its nominal speed, from now on. */
  z.strictObject({ do: z.literal('fanSpeed'), at_s: seconds, speed: z.number().min(0).max(1.3) }),
  /** Refrigerant added (positive) or recovered (negative) through the suction port. */
  z.strictObject({
    do: z.literal('charge'),
    at_s: seconds,
    mass_kg: z.number().min(-20).max(20),
    over_s: seconds.default(30),
  }),
  /** Heating: reverse-cycle defrost now. Cooling: compressor off, fan on, until the coil is clear. */
  z.strictObject({ do: z.literal('defrost'), at_s: seconds }),
]);

const sensor = z.strictObject({
  channel: z.enum(CHANNEL_KEYS),
  rate_Hz: z.number().min(0.2).max(10),
  /** First-order lag of the probe (a clamp on its pipe: 5 to 20 s). */
  lag_s: z.number().min(0).max(300).default(0),
  /** Constant error, in the SI unit of the channel. */
  bias: z.number().default(0),
  /** Standard deviation of white noise, SI. */
  noise: z.number().min(0).default(0),
  /** Step of the display of the instrument, SI; 0 for none. */
  quantum: z.number().min(0).default(0),
  /** Lost samples: chance that a loss begins at a sample, and its mean length. */
  dropout: z
    .strictObject({ chance: share, mean_s: z.number().min(0).max(3600) })
    .default({ chance: 0, mean_s: 0 }),
  /** Late delivery: chance per sample, and the mean delay. The sample keeps the time of its measurement. */
  late: z
    .strictObject({ chance: share, mean_s: z.number().min(0).max(60) })
    .default({ chance: 0, mean_s: 0 }),
  /** Chance that a sample is delivered twice. */
  repeated: share.default(0),
  /** Chance that the instrument sends its previous value once more instead of a fresh one. */
  stuck: share.default(0),
  /** Time at which the clamp falls off its pipe and reads the air around it. */
  fallsOffAt_s: seconds.optional(),
});

const unitSchema = z.strictObject({
  name: z.string().min(1).max(80).default('Unit'),
  mode: z.enum(MODES).default('cooling'),
  /** Cooling capacity at the rating point (26.7 °C / 50 %, 35 °C outdoors), W. */
  designCapacity_W: z.number().min(1500).max(40_000),
  metering,
  lineSet: z
    .strictObject({
      length_m: z.number().min(1).max(80),
      liquidDiameter_m: z.number().min(0.003).max(0.03),
      suctionDiameter_m: z.number().min(0.006).max(0.06),
    })
    .default({ length_m: 7.6, liquidDiameter_m: 0.008, suctionDiameter_m: 0.0174 }),
  /** What the nameplate says: the plant is charged and its valve set to meet it at the rating point. */
  nameplate: z
    .strictObject({
      subcooling_K: z.number().min(1).max(15),
      superheat_K: z.number().min(2).max(20),
    })
    .default({ subcooling_K: 5.6, superheat_K: 6.1 }),
  /** A heat pump: reversing valve, accumulator. Implied by mode heating. */
  heatPump: z.boolean().default(false),
  indoorAirflow_m3_s: z.number().min(0.02).max(5).optional(),
  voltage_V: z.number().min(100).max(480).default(240),
  /** Heating: defrost after this much running with a cold coil; ends at the coil temperature. */
  defrost: z
    .strictObject({
      every_s: z.number().min(300).max(20_000),
      endsAt_K: z.number().min(275).max(310),
      atMost_s: z.number().min(60).max(1200),
    })
    .default({ every_s: 3600, endsAt_K: 288.15, atMost_s: 600 }),
  /** Ice on the cold coil at the start, kg. */
  initialFrost_kg: z.number().min(0).max(10).default(0),
  /** 'standing': equalised and at rest. 'settled': has run 40 minutes before time zero. */
  initial: z.enum(['standing', 'settled']).default('standing'),
  room,
  faults: z.array(fault).default([]),
  events: z.array(event).default([]),
  sensors: z.array(sensor).default([]),
});

const head = {
  title: z.string().min(1).max(120),
  /** Every scenario is invented and says so. */
  demo: z.literal(true),
  description: z.string().max(600).default(''),
  site: z
    .strictObject({ name: z.string().max(80), altitude_m: z.number().min(-400).max(4000) })
    .default({ name: 'Demo site', altitude_m: 0 }),
  seed: z.int().min(0).max(0xffffffff),
  duration_s: z
    .number()
    .min(1)
    .max(7 * 86_400),
};

const unitKey = z.string().regex(/^[A-Z]$/, 'a unit is named by one capital letter');

const splitSystem = z.strictObject({
  kind: z.literal('splitSystem'),
  ...head,
  refrigerant: z.enum(REFRIGERANT_IDS),
  weather,
  units: z
    .record(unitKey, unitSchema)
    .refine((u) => Object.keys(u).length >= 1, { message: 'at least one unit' }),
});

const pressureHold = z.strictObject({
  kind: z.literal('pressureHold'),
  ...head,
  /** Inner volume under test, m3. */
  volume_m3: z.number().min(1e-4).max(1),
  /** Nitrogen at closing of the cylinder valve, Pa absolute, and its temperature then. */
  fill_Pa: z.number().min(1.5e5).max(6e6),
  fill_K: temperature,
  surroundings_K: over(temperature),
  /** Time constant of the gas towards its surroundings, s. */
  exchange_s: z.number().min(10).max(20_000).default(900),
  /** Diameter of the one hole that leaks, m; 0 is tight. */
  hole_m: z.number().min(0).max(1e-3),
  sensors: z.array(sensor).min(1),
});

const vacuumHold = z.strictObject({
  kind: z.literal('vacuumHold'),
  ...head,
  volume_m3: z.number().min(1e-4).max(1),
  surroundings_K: over(temperature),
  /** Effective pumping speed at the circuit (hoses and cores included), m3/s, and blank-off pressure. */
  pumpSpeed_m3_s: z.number().min(1e-6).max(0.1),
  pumpBlankOff_Pa: z.number().min(0.1).max(100).default(3),
  /** The pump's valve is closed at this time. */
  valvedOffAt_s: seconds,
  /** Water in the circuit at the start, kg. */
  water_kg: z.number().min(0).max(1).default(0),
  hole_m: z.number().min(0).max(1e-3).default(0),
  sensors: z.array(sensor).min(1),
});

/** The zod schema of a scenario file. */
export const ScenarioSchema = z.discriminatedUnion('kind', [splitSystem, pressureHold, vacuumHold]);

/** A scenario with every default filled in. */
export type Scenario = z.output<typeof ScenarioSchema>;
/** A scenario as written: defaults may be left out. */
export type ScenarioInput = z.input<typeof ScenarioSchema>;
/** A scenario of a running split system. */
export type SplitScenario = z.output<typeof splitSystem>;
export type PressureHoldScenario = z.output<typeof pressureHold>;
export type VacuumHoldScenario = z.output<typeof vacuumHold>;
export type UnitSpec = z.output<typeof unitSchema>;
export type RoomSpec = z.output<typeof room>;
export type WeatherSpec = z.output<typeof weather>;
export type MeteringSpec = z.output<typeof metering>;
export type FaultSpec = z.output<typeof fault>;
export type EventSpec = z.output<typeof event>;
export type SensorSpec = z.output<typeof sensor>;
/** A number, or points (time, value) joined by straight lines. */
export type Course = number | readonly (readonly [number, number])[];
