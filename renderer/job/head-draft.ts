import type { z } from 'zod';
import { METRE_PER_FOOT } from '../../core/units/length.ts';
import { JobHeadSchema, type JobHead } from '../../core/record/job.ts';
import type { UnitSystem } from '../app/format.ts';
import { fieldText, typedNumber } from '../app/numbers.ts';
import type { DraftErrors } from './unit-draft.ts';

const PartSchema = JobHeadSchema.pick({ title: true, site: true, complaint: true });
type Part = z.infer<typeof PartSchema>;

/** The texts of the form of a job's head. */
export interface HeadDraft {
  readonly title: string;
  readonly site: string;
  readonly address: string;
  readonly altitude: string;
  readonly complaint: string;
}

export const EMPTY_HEAD: HeadDraft = {
  title: '',
  site: '',
  address: '',
  altitude: '',
  complaint: '',
};

/** The fields of a head; the altitude in feet or metres. */
export function headDraft(head: JobHead, system: UnitSystem): HeadDraft {
  const { altitude_m: altitude } = head.site;
  const shown = altitude === null ? null : altitude / (system === 'us' ? METRE_PER_FOOT : 1);
  return {
    title: head.title,
    site: head.site.name,
    address: head.site.address,
    altitude: fieldText(shown, 0),
    complaint: head.complaint,
  };
}

/** The head that the form describes, checked by the schema of the record. */
export function headOfDraft(
  draft: HeadDraft,
  system: UnitSystem,
): { readonly head: Part } | { readonly errors: DraftErrors } {
  const altitude = typedNumber(draft.altitude);
  const parsed = PartSchema.safeParse({
    title: draft.title.trim(),
    site: {
      name: draft.site.trim(),
      address: draft.address.trim(),
      altitude_m: altitude === null ? null : altitude * (system === 'us' ? METRE_PER_FOOT : 1),
    },
    complaint: draft.complaint.trim(),
  });
  if (parsed.success) return { head: parsed.data };
  const errors: Record<string, string> = {};
  for (const issue of parsed.error.issues) {
    const name = String(issue.path.at(-1) ?? '');
    if (name === 'altitude_m') errors['altitude'] = 'a number from −500 to 6000 m (19,685 ft)';
    else if (name === 'title') errors['title'] = 'a title, at most 200 letters';
    else errors[name === 'name' ? 'site' : name] = issue.message;
  }
  return { errors };
}
