import tseslint from 'typescript-eslint'

// The rooms of the house in the order a still flows through them. A room imports only from rooms above it.
const rooms = [
  'math',
  'units',
  'lens',
  'still',
  'chart',
  'measure',
  'grade',
  'walk',
  'sheet',
  'page',
  'simulate',
  'cli',
]

// The numeric core runs in a browser too: no disk, no console, no clock, no chance of its own.
const pureRooms = ['math', 'units', 'lens', 'measure', 'grade']

const importOrder = rooms.map((room, index) => ({
  files: [`src/${room}/**/*.{ts,tsx}`],
  rules: {
    'no-restricted-imports': [
      'error',
      {
        patterns: [
          ...rooms.slice(index + 1).map((later) => ({
            group: [`../${later}/*`, `../../${later}/*`, `../../../${later}/*`],
            message: `src/${room} stands above src/${later} in the house and must not import from it`,
          })),
          ...(pureRooms.includes(room)
            ? [
                {
                  group: ['node:*', 'sharp', 'opencv-wasm', 'pdfkit', 'zod', 'yaml'],
                  message: `src/${room} is pure`,
                },
              ]
            : []),
        ],
      },
    ],
  },
}))

// The page's browser side has no machine under it: esbuild bundles it, and nothing is fetched at run time.
const inBrowser = {
  files: ['src/page/browser/**/*.{ts,tsx}'],
  rules: {
    'no-restricted-imports': [
      'error',
      {
        patterns: [
          ...['simulate', 'cli', 'still', 'chart'].map((room) => ({
            group: [`../../${room}/*`],
            message: `src/page/browser runs in a browser and must not import from src/${room}`,
          })),
          {
            group: ['node:*', 'sharp', 'pdfkit', 'zod', 'yaml', 'piscina'],
            message: 'src/page/browser runs in a browser',
          },
        ],
      },
    ],
  },
}

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/'] },
  ...tseslint.configs.strict,
  {
    rules: {
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true } }],
      eqeqeq: 'error',
      'prefer-const': 'error',
    },
  },
  { files: ['*.config.ts', '*.config.js'], rules: { 'no-restricted-exports': 'off' } },
  {
    files: pureRooms.map((room) => `src/${room}/**/*.ts`),
    rules: {
      'no-console': 'error',
      'no-restricted-globals': ['error', 'process', 'Buffer', 'setTimeout', 'fetch'],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'hand a generator in' },
        { object: 'Date', property: 'now', message: 'the core reads no clock' },
      ],
    },
  },
  ...importOrder,
  inBrowser,
)
