import { useState, type ReactNode, type SyntheticEvent } from 'react';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';
import { Dialog } from './Dialog.tsx';
import { TextField } from './Field.tsx';
import { chooseTheme, chosenTheme, THEMES, type Theme } from './theme.ts';

const THEME_TEXT: Record<Theme, string> = {
  light: 'Light, for the sun',
  dark: 'Dark, for the night',
};

/** Who writes into the record, and how the screens look on this machine. */
export function SettingsDialog({ onClose }: { readonly onClose: () => void }): ReactNode {
  const { store } = useServices();
  const command = useCommand();
  const settings = useApp((s) => s.settings);
  const info = useApp((s) => s.info);
  const [author, setAuthor] = useState(settings.author);
  const [theme, setTheme] = useState(chosenTheme());
  const submit = async (event: SyntheticEvent) => {
    event.preventDefault();
    const saved = await command('settings.set', { ...settings, author: author.trim() });
    if (saved === null) return;
    put(store, { settings: saved });
    onClose();
  };
  return (
    <Dialog title="Settings" onClose={onClose}>
      <form className="form" onSubmit={(event) => void submit(event)}>
        <TextField
          label="Your name"
          hint="Stands beside everything you write into a record"
          value={author}
          onChange={setAuthor}
        />
        <fieldset>
          <legend>Screen</legend>
          <div className="switch" role="group" aria-label="Screen">
            {THEMES.map((key) => (
              <button
                key={key}
                type="button"
                aria-pressed={key === theme}
                onClick={() => {
                  chooseTheme(key);
                  setTheme(key);
                }}
              >
                {THEME_TEXT[key]}
              </button>
            ))}
          </div>
        </fieldset>
        <fieldset>
          <legend>Keys</legend>
          <dl className="keys">
            <dt>Alt+1 … Alt+4</dt>
            <dd>Watch, Job, Review, Sensors</dd>
            <dt>S</dt>
            <dd>take a snapshot of every watched unit</dd>
            <dt>Space, ← →, Shift+← →, + −</dt>
            <dd>replay: play or pause, step 10 s, step a minute, faster or slower</dd>
          </dl>
        </fieldset>
        <footer className="form-foot">
          <p className="muted">Version {info?.version ?? ''}</p>
          <button type="submit" className="primary">
            Save
          </button>
        </footer>
      </form>
    </Dialog>
  );
}
