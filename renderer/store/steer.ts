import { useCallback } from 'react';
import { put, type Role } from './store.ts';
import { useCommand, useServices } from './context.ts';

/** What can be done with the time of a session whose source can be driven. */
export type Steering =
  | { readonly do: 'play' | 'pause' }
  | { readonly do: 'seek'; readonly position: number }
  | { readonly do: 'speed'; readonly speed: number };

export type Steer = (steering: Steering) => Promise<void>;

/**
 * A stable function that drives the time of a session. It asks for the session afterwards: a source
 * that stands still sends no view by itself.
 */
export function useSteer(role: Role): Steer {
  const command = useCommand();
  const { store } = useServices();
  return useCallback(
    async (steering) => {
      switch (steering.do) {
        case 'play':
        case 'pause':
          await command(`playback.${steering.do}`, { role });
          break;
        case 'seek':
          await command('playback.seek', { role, position: steering.position });
          break;
        case 'speed':
          await command('playback.speed', { role, speed: steering.speed });
          break;
      }
      const view = await command('session.current', { role });
      if (view !== null) put(store, { [role]: view });
    },
    [command, store, role],
  );
}
