import { M3_S_PER_CFM } from '../../core/units/flow.ts';
import { KILOGRAM_PER_POUND } from '../../core/units/mass.ts';
import { WATT_PER_BTUH } from '../../core/units/power.ts';
import type { Accuracy } from '../../core/circuit/types.ts';
import type { MakersData } from '../../core/diagnosis/maker.ts';
import { UnitSchema, type Unit } from '../../core/record/job.ts';
import { isChannelKey, type ChannelKey } from '../../core/stream/channels.ts';
import { differenceNumber, differenceSI, type UnitSystem } from '../app/format.ts';
import { fieldText, typedNumber } from '../app/numbers.ts';
import { makerDraft, makerOfDraft, type MakerDraft } from './maker-draft.ts';
import { accuracyDraft, accuracyOf, type AccuracyDraft } from './accuracy-draft.ts';

/** 1000 Btu (international table) an hour in W: NIST SP 811. */
const W_PER_KBTUH = 1000 * WATT_PER_BTUH;
const M3_S_PER_M3_H = 1 / 3600;

/** The channels whose sensors a person may describe. */
export const DESCRIBED_CHANNELS = [
  'suctionPressure',
  'liquidPressure',
  'dischargePressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'dischargeLineTemp',
  'outdoorAirTemp',
  'returnAirTemp',
  'supplyAirTemp',
] as const satisfies readonly ChannelKey[];

/** The texts of the unit form, in the units the person reads in. */
export interface UnitDraft {
  readonly key: string;
  readonly name: string;
  readonly refrigerant: string;
  readonly metering: string;
  readonly mode: string;
  readonly outdoorModel: string;
  readonly outdoorSerial: string;
  readonly indoorModel: string;
  readonly indoorSerial: string;
  readonly charge: string;
  readonly capacity: string;
  readonly targetSubcooling: string;
  readonly targetSuperheat: string;
  readonly displacement: string;
  readonly maker: MakerDraft;
  readonly minimumRun: string;
  readonly accuracy: Readonly<Record<string, AccuracyDraft>>;
}

/** What is wrong, by field. */
export type DraftErrors = Readonly<Record<string, string>>;

/** The fields of a unit. */
export function unitDraft(unit: Unit, system: UnitSystem): UnitDraft {
  const { nameplate: plate } = unit;
  const difference = (kelvin: number | null) =>
    fieldText(kelvin === null ? null : differenceNumber(kelvin, system), 2);
  const scaled = (si: number | null, us: number, metric: number) =>
    fieldText(si === null ? null : si / (system === 'us' ? us : metric), 3);
  return {
    key: unit.key,
    name: unit.name,
    refrigerant: unit.refrigerant,
    metering: unit.metering,
    mode: unit.mode,
    outdoorModel: plate.outdoorModel,
    outdoorSerial: plate.outdoorSerial,
    indoorModel: plate.indoorModel,
    indoorSerial: plate.indoorSerial,
    charge: scaled(plate.charge_kg, KILOGRAM_PER_POUND, 1),
    capacity: scaled(plate.capacity_W, W_PER_KBTUH, 1000),
    targetSubcooling: difference(plate.targetSubcooling_K),
    targetSuperheat: difference(plate.targetSuperheat_K),
    displacement: scaled(plate.displacement_m3_s, M3_S_PER_CFM, M3_S_PER_M3_H),
    maker: makerDraft(unit.maker, system),
    minimumRun: fieldText(unit.minimumRun_s / 60, 2),
    accuracy: Object.fromEntries(
      DESCRIBED_CHANNELS.map((key) => [key, accuracyDraft(key, unit.accuracy[key], system)]),
    ),
  };
}

/** The form field that shows the error of a path of the schema. */
const FIELD_OF: Readonly<Record<string, string>> = {
  charge_kg: 'charge',
  capacity_W: 'capacity',
  targetSubcooling_K: 'targetSubcooling',
  targetSuperheat_K: 'targetSuperheat',
  displacement_m3_s: 'displacement',
  minimumRun_s: 'minimumRun',
};

/**
 * The unit that the form describes, checked by the schema of the record.
 *
 * @param before the unit as it was: what the form does not show is kept
 */
export function unitOfDraft(
  draft: UnitDraft,
  before: Unit,
  system: UnitSystem,
): { readonly unit: Unit } | { readonly errors: DraftErrors } {
  const errors: Record<string, string> = {};
  const optional = (field: 'charge' | 'capacity' | 'displacement', us: number, metric: number) => {
    const value = typedNumber(draft[field]);
    return value === null ? null : value * (system === 'us' ? us : metric);
  };
  const difference = (field: 'targetSubcooling' | 'targetSuperheat') => {
    const value = typedNumber(draft[field]);
    return value === null ? null : differenceSI(value, system);
  };
  const minutes = typedNumber(draft.minimumRun);
  const parsed = UnitSchema.safeParse({
    key: draft.key.trim(),
    name: draft.name.trim(),
    refrigerant: draft.refrigerant,
    metering: draft.metering,
    mode: draft.mode,
    nameplate: {
      outdoorModel: draft.outdoorModel.trim(),
      outdoorSerial: draft.outdoorSerial.trim(),
      indoorModel: draft.indoorModel.trim(),
      indoorSerial: draft.indoorSerial.trim(),
      charge_kg: optional('charge', KILOGRAM_PER_POUND, 1),
      capacity_W: optional('capacity', W_PER_KBTUH, 1000),
      targetSubcooling_K: difference('targetSubcooling'),
      targetSuperheat_K: difference('targetSuperheat'),
      displacement_m3_s: optional('displacement', M3_S_PER_CFM, M3_S_PER_M3_H),
    },
    maker: makerPart(draft, system, errors),
    accuracy: accuraciesOf(draft, before, system, errors),
    minimumRun_s: minutes === null ? NaN : minutes * 60,
  });
  for (const issue of parsed.error?.issues ?? []) {
    const name = String(issue.path.at(-1) ?? '');
    errors[FIELD_OF[name] ?? name] ??= plain(name, issue.message);
  }
  return parsed.success && Object.keys(errors).length === 0 ? { unit: parsed.data } : { errors };
}

/** What the maker's chart says; {} where something of it is wrong, which is then in `errors`. */
function makerPart(
  draft: UnitDraft,
  system: UnitSystem,
  errors: Record<string, string>,
): MakersData {
  const read = makerOfDraft(draft.maker, system);
  if ('maker' in read) return read.maker;
  Object.assign(errors, read.errors);
  return {};
}

function accuraciesOf(
  draft: UnitDraft,
  before: Unit,
  system: UnitSystem,
  errors: Record<string, string>,
): Record<string, Accuracy> {
  const hidden = Object.entries(before.accuracy).filter(([key]) => !(key in draft.accuracy));
  const accuracy: Record<string, Accuracy> = Object.fromEntries(hidden);
  for (const [key, typed] of Object.entries(draft.accuracy)) {
    if (!isChannelKey(key)) continue;
    const read = accuracyOf(key, typed, system);
    if ('error' in read) errors[key] = read.error;
    else if (read.accuracy !== undefined) accuracy[key] = read.accuracy;
  }
  return accuracy;
}

/** What the schema says of numbers speaks of SI; the person typed other units. */
const PLAIN: Readonly<Record<string, string>> = {
  charge_kg: 'a weight above zero, at most 100 kg (220 lb); empty where unknown',
  capacity_W: 'a capacity above zero, at most 1000 kW; empty where unknown',
  targetSubcooling_K: 'from 0 to 40 K (72 °F); empty where there is none',
  targetSuperheat_K: 'from 0 to 40 K (72 °F); empty where there is none',
  displacement_m3_s: 'a volume in time above zero, at most 3600 m³/h; empty where unknown',
  minimumRun_s: 'from 0 to 120 minutes',
};

function plain(name: string, message: string): string {
  return PLAIN[name] ?? message;
}
