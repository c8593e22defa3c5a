import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { z } from 'zod';
import { App } from './app/App.tsx';
import { chooseTheme, chosenTheme } from './app/theme.ts';
import { ServicesContext } from './store/context.ts';
import { createAppStore, listen, load } from './store/store.ts';
import { bridge } from './store/connect.ts';
import './app/tokens.css';
import './app/base.css';
import './app/frame.css';

// The content security policy forbids code made from text; zod must not try.
z.config({ jitless: true });

chooseTheme(chosenTheme());
const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no #root');
const store = createAppStore();
listen(store, bridge);
void load(store, bridge);
createRoot(root).render(
  <StrictMode>
    <ServicesContext value={{ store, bridge }}>
      <App />
    </ServicesContext>
  </StrictMode>,
);
