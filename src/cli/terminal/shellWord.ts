/** A path as a shell takes it: quoted where it holds more than plain characters. */
export function shellWord(path: string): string {
  return /^[\w./+@%:=-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`
}
