import { z } from 'zod';
import { STANDARD_KEYS, SUPERHEAT_CHARTS } from '../diagnosis/types.ts';
import { InstantSchema } from './session.ts';

const id = z.string().min(1).max(200);

/** What no sensor tells, as a person answered it for one unit. Unknown is null. SI. */
export const AnswersSchema = z.strictObject({
  /** Whose tolerances judge the readings. */
  standard: z.enum(STANDARD_KEYS),
  /** Which chart gives the superheat of a fixed orifice. */
  chart: z.enum(SUPERHEAT_CHARTS),
  /** The air over the indoor coil: not known, looked at and right, or measured. */
  airflow: z.enum(['unknown', 'attested', 'measured']),
  flow_m3_s: z.number().positive().max(100).nullable(),
  heatPump: z.boolean(),
  /** Id of the session whose typed readings a person saw stand still; it speaks for no other. */
  stoodStill: id.nullable(),
  chargeWeighed: z.boolean(),
  /** Checks made and what came out, by their keys in core/diagnosis/checks-table.ts. */
  outcomes: z
    .array(z.strictObject({ check: id, outcome: id }))
    .max(64)
    .readonly(),
  /** Id of the reading that shows this unit when it was healthy. */
  baseline: id.nullable(),
  /** Id of the reading of a like unit under the same conditions. */
  twin: id.nullable(),
});
export type Answers = z.infer<typeof AnswersSchema>;

/** Before a person has told anything. */
export const NO_ANSWERS: Answers = {
  standard: 'ra32Installer',
  chart: 'chargingChart',
  airflow: 'unknown',
  flow_m3_s: null,
  heatPump: false,
  stoodStill: null,
  chargeWeighed: false,
  outcomes: [],
  baseline: null,
  twin: null,
};

/** The answers of one unit as kept in the record: the latest, with who gave it and when. */
export const UnitAnswersSchema = z.strictObject({
  unit: z.string().min(1),
  answers: AnswersSchema,
  at: InstantSchema,
  author: z.string().max(200),
});
export type UnitAnswers = z.infer<typeof UnitAnswersSchema>;
