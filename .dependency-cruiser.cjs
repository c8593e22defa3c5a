/**
 * The layers of the program. Imports run one way only:
 * core <- electron <- (nothing); core <- renderer; renderer takes types only from electron/bridge.
 */
const inside = (...rooms) => `^core/(${rooms.join('|')})/`;

module.exports = {
  forbidden: [
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'core-is-pure',
      comment:
        'core imports only core and zod (and psychrolib in its one wrapper); the generator of the ' +
        'refrigerant files is a tool, not part of the program.',
      severity: 'error',
      from: { path: '^core/', pathNot: '^core/refrigerant/generate/' },
      to: { pathNot: ['^core/', '^node_modules/zod', '^node_modules/psychrolib'] },
    },
    {
      name: 'psychrolib-in-one-file',
      severity: 'error',
      from: { pathNot: ['^core/circuit/psychrometrics\\.ts$', '^tests/'] },
      to: { path: '^node_modules/psychrolib' },
    },
    {
      name: 'units-know-nothing',
      severity: 'error',
      from: { path: inside('units') },
      to: { path: '^core/', pathNot: ['^core/units/', '^core/result\\.ts$'] },
    },
    {
      name: 'refrigerant-knows-units',
      severity: 'error',
      from: { path: inside('refrigerant') },
      to: { path: '^core/', pathNot: ['^core/(refrigerant|units)/', '^core/result\\.ts$'] },
    },
    {
      name: 'stream-and-steadiness-know-no-circuit',
      severity: 'error',
      from: { path: inside('stream', 'steadiness') },
      to: { path: '^core/', pathNot: ['^core/(stream|steadiness|units)/', '^core/result\\.ts$'] },
    },
    {
      name: 'circuit-knows-no-checks',
      severity: 'error',
      from: { path: inside('circuit') },
      to: { path: '^core/(checks|diagnosis|record|plant)/|^core/engine\\.ts$' },
    },
    {
      name: 'plant-is-apart',
      comment: 'the judge must not know the simulator, nor the simulator the judge',
      severity: 'error',
      from: { path: inside('plant') },
      to: { path: '^core/(steadiness|checks|diagnosis|record)/|^core/engine\\.ts$' },
    },
    {
      name: 'judge-knows-no-plant',
      severity: 'error',
      from: { path: '^core/(steadiness|circuit|checks|diagnosis|record)/|^core/engine\\.ts$' },
      to: { path: '^core/plant/' },
    },
    {
      name: 'electron-in-its-entries',
      comment: "Electron's binary may be absent: only the entries and the ipc adapter import it.",
      severity: 'error',
      from: { pathNot: ['^electron/(main|preload)\\.ts$', '^electron/bridge/ipc\\.ts$'] },
      to: { path: '^node_modules/electron/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'noble-behind-radio',
      severity: 'error',
      from: { pathNot: ['^electron/radio/', '^tests/radio/'] },
      to: { path: '^node_modules/@abandonware' },
    },
    {
      name: 'files-and-sources-know-no-services',
      comment:
        'the record and where samples come from are used by the services, never the other way',
      severity: 'error',
      from: { path: '^electron/(jobfile|sources)/' },
      to: { path: '^electron/(services|bridge|headless|host|radio)/' },
    },
    {
      name: 'renderer-takes-types-from-bridge',
      severity: 'error',
      from: { path: '^renderer/' },
      to: {
        path: '^electron/',
        pathNot: '^electron/bridge/(commands|events|errors|views|client)\\.ts$',
      },
    },
    {
      name: 'renderer-has-no-node',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'product-imports-no-tests',
      severity: 'error',
      from: { pathNot: '^tests/' },
      to: { path: '^(tests|fixtures)/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js', '.json'] },
  },
};
