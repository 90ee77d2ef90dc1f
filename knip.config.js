// Finds files, exports and dependencies that nobody uses; with --production, what tests and benches alone use. `!` marks what belongs to the product.
const inProduct = process.argv.includes('--production')

export default {
  entry: [
    'src/index.ts!',
    'src/cli/main.ts!',
    'src/page/browser/main.tsx!',
    'src/page/browser/trialMain.tsx!',
    'bench/*.{ts,js}',
    '.ci/*.js',
  ],
  project: ['src/**/*.{ts,tsx}!', 'bin/*.js', 'bench/**/*.{ts,js}', 'tests/**/*.ts', '.ci/*.js'],
  // A test may look at a part of what its file exports no further.
  ignoreExportsUsedInFile: inProduct,
  // Found by `require.resolve`: the font's files the script that a browser is handed, and a package whose hooks are taken off as it is loaded.
  ignoreDependencies: ['@expo-google-fonts/source-sans-3', 'axe-core', 'opencv-wasm'],
  ignoreBinaries: ['ffmpeg', 'mkfifo', 'pdf.+'],
}
