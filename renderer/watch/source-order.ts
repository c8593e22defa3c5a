import type { JobView, SourceRow } from '../../electron/bridge/views.ts';

/** What a technician reaches for first stands first. */
const AT_A_UNIT = ['radio', 'manual', 'file', 'simulated', 'replay'] as const;

/** The simulation first in a job that has no unit of its own or was nothing but simulated yet. */
function isDemonstration({ units, sessions }: Pick<JobView, 'units' | 'sessions'>): boolean {
  if (units.length === 0) return true;
  return sessions.length > 0 && sessions.every((row) => row.source.kind === 'simulated');
}

/** The sources that can be begun in a job, in the order in which they are offered. */
export function offered(
  rows: readonly SourceRow[],
  job: Pick<JobView, 'units' | 'sessions'>,
): readonly SourceRow[] {
  const first = isDemonstration(job) ? 'simulated' : null;
  const rank = ({ kind }: SourceRow) => (kind === first ? -1 : AT_A_UNIT.indexOf(kind));
  return rows.filter((row) => row.kind !== 'replay').sort((a, b) => rank(a) - rank(b));
}
