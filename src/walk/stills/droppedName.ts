import { distanceInName } from './stillName.js'
import { lightOfWalk } from '../read/walkWords.js'

/** No name is longer, bytes of UTF-8: disks take 255. This project's convention. */
const LONGEST_NAME_BYTES = 200

/** What Windows keeps for devices, whatever follows a point. */
const DEVICE = /^(con|prn|aux|nul|com[0-9\u00b9\u00b2\u00b3]|lpt[0-9\u00b9\u00b2\u00b3])\s*(\.|$)/i

/**
 * The name under which a file that comes from elsewhere is kept: the last step of its path, without unseen signs, without what a disk of another system does
 * not take (`"` becomes the sign for inches, the others -), never hidden, at most 200 bytes. The ending stays.
 */
export function cleanName(given: string): string {
  const last = given.normalize('NFC').split(/[/\\]/).at(-1)!
  const seen = last.replace(/[\p{Zl}\p{Zp}\s]+/gu, ' ').replace(/\p{C}/gu, '')
  const plain = seen.replaceAll('"', '\u2033').replace(/[<>:|?*]/g, '-')
  const [, stem = '', ending = ''] = /^(.*?)(\.[^.]*)?$/.exec(plain.replace(/^[. ]+|[. ]+$/g, ''))!
  const whole = stem.replace(/[. ]+$/, '') || 'still'
  const named = DEVICE.test(whole) ? `_${whole}` : whole
  return `${cutTo(named, LONGEST_NAME_BYTES - Buffer.byteLength(ending)).replace(/[. ]+$/, '')}${ending}`
}

function cutTo(text: string, bytes: number): string {
  let cut = ''
  for (const letter of text) {
    if (Buffer.byteLength(cut + letter) > bytes) break
    cut += letter
  }
  return cut
}

/** The folder below a walk's that a file of this name goes to: its light's where the name begins with a distance and names one light of the walk, else `stills`. */
export function folderForName(name: string, lights: readonly string[]): string {
  const distance = distanceInName(name)
  const words = name.replace(/\.[^.]*$/, '').match(/[\p{L}\p{M}]+/gu) ?? []
  const runs = words.flatMap((_, from) => [1, 2, 3].map((count) => words.slice(from, from + count).join(' ')))
  const told = new Set(runs.flatMap((run) => lightOfWalk(run, lights) ?? []))
  return distance.ok && distance.value > 0 && told.size === 1 ? `stills/${[...told][0]!}` : 'stills'
}
