/** The look of the screens: a matter of this machine, so the browser keeps it. */
export const THEMES = ['light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'stillpoint.theme';

/** The chosen theme; light where none was chosen. */
export function chosenTheme(): Theme {
  return localStorage.getItem(KEY) === 'dark' ? 'dark' : 'light';
}

/** Puts a theme on and remembers it. */
export function chooseTheme(theme: Theme): void {
  localStorage.setItem(KEY, theme);
  document.documentElement.dataset['theme'] = theme;
}
