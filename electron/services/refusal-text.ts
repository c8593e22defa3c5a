import type { SnapshotRefusal } from '../../core/engine-types.ts';
import { channelRow } from '../../core/stream/channels.ts';

/** Why there is no snapshot, and what to do, in words. */
export function refusalText(refusal: SnapshotRefusal): string {
  switch (refusal.code) {
    case 'NOTHING_TO_READ':
      return 'no readings have come in yet. Wait until the channels show values.';
    case 'STALE_CHANNELS': {
      const names = refusal.channels.map((channel) => channelRow(channel).label).join(', ');
      return `every value is out of date (${names}). Check the sensors, then try again.`;
    }
  }
}
