import type { CommandArgs } from '../../electron/bridge/commands.ts';
import { put } from '../store/store.ts';
import { useCommand, useServices } from '../store/context.ts';

type SourceChoice = CommandArgs<'session.start'>['source'];

/** Starts a session and goes to Watch; a failure is shown as a notice. */
export function useStart(): (source: SourceChoice) => Promise<void> {
  const command = useCommand();
  const { store } = useServices();
  return async (source) => {
    const view = await command('session.start', { source });
    if (view !== null) put(store, { live: view, room: 'watch' });
  };
}
