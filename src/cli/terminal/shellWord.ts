import { escaped } from '../../files/oneLine.js'

/** A path as a shell takes it: quoted where it holds more than plain characters, with what does not print written as its bytes. */
export function shellWord(path: string, platform: NodeJS.Platform = process.platform): string {
  if (platform === 'win32') return /^[\w./\\+@%:=~-]+$/.test(path) ? path : `"${escaped(path)}"`
  if (escaped(path) !== path) {
    const bytes = (sign: string): string =>
      [...Buffer.from(sign)].map((byte) => `\\x${byte.toString(16).padStart(2, '0')}`).join('')
    return `$'${[...path].map((sign) => (escaped(sign) === sign ? sign.replace(/['\\]/, '\\$&') : bytes(sign))).join('')}'`
  }
  return /^[\w./+@%:=-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`
}
