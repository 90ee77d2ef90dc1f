import tseslint from 'typescript-eslint'
import { houseRules } from './.ci/houseRules.js'
import { saidRules } from './.ci/saidRules.js'

// The numeric core runs in a browser too: no disk, no console, no clock, no chance of its own.
const pureRooms = ['math', 'units', 'lens', 'measure', 'grade']

const importOrder = [
  {
    files: ['src/**/*.{ts,tsx}'],
    plugins: { house: houseRules },
    rules: Object.fromEntries(Object.keys(houseRules.rules).map((rule) => [`house/${rule}`, 'error'])),
  },
  {
    files: pureRooms.map((room) => `src/${room}/**/*.ts`),
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: ['node:*', 'sharp', 'opencv-wasm', 'pdfkit', 'zod', 'yaml'],
              message: 'the numeric core is pure',
            },
          ],
        },
      ],
    },
  },
]

const oneCatalogue = {
  files: ['src/**/*.{ts,tsx}'],
  ignores: ['src/**/sentences.ts'],
  plugins: { sentences: saidRules },
  rules: { 'sentences/said': 'error' },
}

const shortFunctions = {
  files: ['src/**/*.{ts,tsx}'],
  rules: { 'max-lines-per-function': ['error', { max: 80, skipBlankLines: true, skipComments: true }] },
}

// The page's browser side has no machine under it: esbuild bundles it, and nothing is fetched at run time.
const inBrowser = {
  files: ['src/page/browser/**/*.{ts,tsx}'],
  rules: {
    'no-restricted-imports': [
      'error',
      {
        patterns: [
          ...['simulate', 'cli', 'still', 'chart'].map((room) => ({
            group: [`../../${room}/**`, `../../../${room}/**`],
            message: `src/page/browser runs in a browser and must not import from src/${room}`,
          })),
          {
            group: ['node:*', 'sharp', 'pdfkit', 'zod', 'yaml'],
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
  {
    files: ['chart', 'simulate', 'trial', ...pureRooms].map((room) => `src/${room}/**/*.ts`),
    rules: {
      // Powers came out otherwise from Node 24 on; squares, and those of 2 and 10, did not.
      'no-restricted-syntax': [
        'error',
        {
          selector: '[operator="**"]:not([right.value=2]):not([left.value=2]):not([left.value=10])',
          message: 'take power() of src/math, or multiply',
        },
        { selector: '[object.name="Math"][property.name="pow"]', message: 'take power() of src/math' },
      ],
    },
  },
  ...importOrder,
  oneCatalogue,
  shortFunctions,
  inBrowser,
)
