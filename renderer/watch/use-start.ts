import type { CommandArgs } from '../../electron/bridge/commands.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { askToNotify } from './callout.ts';

type SourceChoice = CommandArgs<'session.start'>['source'];

/** Starts a session and goes to Watch; a failure is shown as a notice. */
export function useStart(): (source: SourceChoice) => Promise<void> {
  const command = useCommand();
  const { store } = useServices();
  const settings = useApp((s) => s.settings);
  return async (source) => {
    // The press that starts a session is the one moment at which a browser lets itself be asked.
    if (settings.sound) void askToNotify();
    const view = await command('session.start', { source });
    if (view !== null) put(store, { live: view, room: 'watch' });
  };
}
