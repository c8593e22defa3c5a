import { CHANNEL_KEYS, isChannelKey, type ChannelKey } from '../../core/stream/channels.ts';
import type { Db } from './database.ts';

/** The numbers this file uses for channels, both ways. */
export interface ChannelIds {
  readonly idOf: ReadonlyMap<ChannelKey, number>;
  readonly keyOf: ReadonlyMap<number, ChannelKey>;
}

/**
 * Reads the channels of a file. Each file has its own numbers: one that was written before a
 * channel was added to the table of the program does not know it yet.
 */
export function readChannelIds(db: Db): ChannelIds {
  const idOf = new Map<ChannelKey, number>();
  const keyOf = new Map<number, ChannelKey>();
  for (const row of db.all('SELECT id, key FROM channel') as { id: number; key: string }[]) {
    if (!isChannelKey(row.key)) continue;
    idOf.set(row.key, row.id);
    keyOf.set(row.id, row.key);
  }
  return { idOf, keyOf };
}

/** Adds the channels of the program that the file does not know yet, for a connection that writes. */
export function completeChannelIds(db: Db): ChannelIds {
  for (const key of CHANNEL_KEYS) {
    db.run('INSERT INTO channel (key) VALUES (?) ON CONFLICT DO NOTHING', [key]);
  }
  return readChannelIds(db);
}
