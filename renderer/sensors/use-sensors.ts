import { useCallback, useEffect, useState } from 'react';
import type { CommandArgs, CommandName } from '../../electron/bridge/commands.ts';
import type { SensorsView } from '../../electron/bridge/views.ts';
import { useCommand, useServices } from '../store/context.ts';

/** The host keeps the radio running while it is asked this often. */
const ASK_MS = 1000;

/** Commands whose answer is the sensors' whole picture. */
type SensorCommand = Extract<CommandName, `sensors.${string}`>;

/** Runs a command of the sensors; true where it was accepted. */
export type Act = <C extends SensorCommand>(name: C, args: CommandArgs<C>) => Promise<boolean>;

/**
 * The picture of the sensors, asked for every second while the room is open, and the way to change
 * it; the answer to a change is shown at once.
 */
export function useSensors(scan: boolean): {
  readonly view: SensorsView | null;
  readonly act: Act;
} {
  const { bridge } = useServices();
  const command = useCommand();
  const [view, setView] = useState<SensorsView | null>(null);
  useEffect(() => {
    let gone = false;
    const ask = async () => {
      const answer = await bridge.call('sensors.watch', { scan });
      if (!gone && answer.ok) setView(answer.value);
    };
    void ask();
    const timer = setInterval(() => void ask(), ASK_MS);
    return () => {
      gone = true;
      clearInterval(timer);
    };
  }, [bridge, scan]);
  const act = useCallback<Act>(
    async (name, args) => {
      const answer = await command(name, args);
      if (answer !== null) setView(answer);
      return answer !== null;
    },
    [command],
  );
  return { view, act };
}
