import { spawn } from 'node:child_process'
import sharp from 'sharp'
import type { GreyPicture, SceneSite, SiteShot } from '../../tests/support/sceneSite.js'

/** Of a clip, so many frames show one exposure. */
const FRAMES = 12
/** The coder looks so many frames ahead at most. */
const LOOKED_AHEAD = 4

/** A still as it was exported, with what is true of it. */
export interface BenchStill {
  readonly shot: SiteShot
  readonly name: string
  readonly jpeg: Buffer
}

/** Exposes, codes and decodes: as JPEG at once, or out of a clip of so many Mbit/s with one key frame. */
export async function exported(
  site: SceneSite,
  shots: readonly (readonly [string, SiteShot])[],
  mbit: number,
): Promise<BenchStill[]> {
  const pictures = shots.map(([, shot]) => site.shoot(shot))
  const seen = mbit === 0 ? pictures : await throughClip(pictures, mbit)
  return Promise.all(shots.map(async ([name, shot], i) => ({ name, shot, jpeg: await jpegOf(seen[i]!) })))
}

export function jpegOf({ width, height, data }: GreyPicture): Promise<Buffer> {
  return sharp(data, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .jpeg({ quality: 90 })
    .toBuffer()
}

/** One frame of each exposure out of a clip of so many Mbit/s with one key frame: that `frame` of its twelve. */
export async function throughClip(
  pictures: readonly GreyPicture[],
  mbit: number,
  frame = FRAMES - LOOKED_AHEAD,
): Promise<GreyPicture[]> {
  const { width, height } = pictures[0]!
  const raw = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${width}x${height}`, '-r', '25']
  const rate = ['-b:v', `${mbit}M`, '-maxrate', `${mbit}M`, '-bufsize', `${2 * mbit}M`]
  const coder = ['-c:v', 'libx264', '-preset', 'veryfast', '-threads', '1', '-g', '1000', ...rate]
  // Each frame of a still has its own grain, as a camera's has.
  const frames = pictures.flatMap(({ data }) => Array.from({ length: FRAMES }, () => data))
  const grain = ['-vf', 'noise=alls=4:allf=t:all_seed=1,format=yuv420p']
  const clip = await ffmpeg([...raw, '-i', '-', ...grain, ...coder, '-f', 'matroska', '-'], frames)
  // Not the last ones of an exposure: coded from both sides (B frames), scales came out up to 0.018 % off there, without them (-bf 0) 0.003 % (site 4, 1 Mbit/s).
  const late = ['-vf', `select='eq(mod(n\\,${FRAMES})\\,${frame})',format=gray`, '-fps_mode', 'passthrough']
  const out = await ffmpeg(['-i', '-', ...late, '-f', 'rawvideo', '-'], [clip])
  const size = width * height
  return pictures.map((_, i) => ({ width, height, data: out.subarray(i * size, (i + 1) * size) }))
}

function ffmpeg(args: readonly string[], input: readonly Uint8Array[]): Promise<Buffer> {
  const child = spawn('ffmpeg', ['-loglevel', 'error', ...args], { stdio: ['pipe', 'pipe', 'inherit'] })
  const parts: Buffer[] = []
  child.stdout.on('data', (part: Buffer) => parts.push(part))
  child.stdin.on('error', () => undefined)
  const feed = async (): Promise<void> => {
    for (const part of input)
      if (!child.stdin.write(part)) await new Promise((resolve) => child.stdin.once('drain', resolve))
    child.stdin.end()
  }
  return new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('close', (status) =>
      status === 0 ? resolve(Buffer.concat(parts)) : reject(new Error(`ffmpeg ended with ${status}`)),
    )
    void feed()
  })
}
