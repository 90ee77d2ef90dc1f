import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { drawClip, exposed, FRAMES, LIGHTS, type Shift } from './clip.js'
import type { Setting } from './settings.js'
import { FRAME_PX, once, type Walker } from './walker.js'

/** Goes up where stills of the same name would come out otherwise. */
const EDITION = 4
const JPEG_QUALITY = 85
const GROUP = FRAMES - 1
/** Seeds of one moment's frames, so that no two moments share their noise. */
const MOMENT_SEEDS = 1_000_000
const NO_FRAME = new Uint8Array(FRAME_PX.width * FRAME_PX.height)

/** A still of a clip, as the recorder exports it: the last frame, which begins a group (I), as PNG, or the one before it (P) as JPEG. */
export interface CodedStill {
  readonly frame: 'I' | 'P'
  readonly moment: number
  readonly file: string
  /** Of the walker against its rest, px of the camera. */
  readonly shift: Shift
  readonly enlarged: number
}

/** A walker's clips as the sensor gives them, each drawn once for all settings that share motion and light. */
export function clipsOf(walker: Walker, moment = 0) {
  const kept = <Value>(make: (setting: Setting) => Value, keyOf: (setting: Setting) => unknown) => {
    const made = new Map<string, Value>()
    return (setting: Setting): Value => {
      const key = JSON.stringify(keyOf(setting))
      if (!made.has(key)) made.set(key, make(setting))
      return made.get(key)!
    }
  }
  const motion = kept(
    ({ moving = null, woven = false }) => drawClip(walker, { moving, woven, moment }),
    ({ moving, woven }) => [moving, woven],
  )
  const frames = kept(
    (setting) =>
      motion(setting).frames.map((light, frame) =>
        once(() =>
          exposed(light(), LIGHTS[setting.light], 1000 * walker.seed + frame + MOMENT_SEEDS * moment),
        ),
      ),
    ({ moving, woven, light }) => [moving, woven, light],
  )
  return { moment, shifts: (setting: Setting) => motion(setting).shifts, frames }
}

/** Both stills of a walker behind a setting, from the folder of earlier runs where they lie there. */
export async function codedStills(
  walker: Walker,
  setting: Setting,
  clips: ReturnType<typeof clipsOf>,
): Promise<readonly CodedStill[]> {
  const done = { ...setting, keptAside: undefined, family: undefined, name: undefined }
  const key = createHash('sha256')
    .update(JSON.stringify([EDITION, walker.seed, done, ...(clips.moment === 0 ? [] : [clips.moment])]))
    .digest('hex')
  const folder = join(tmpdir(), 'proofwalk-video')
  mkdirSync(folder, { recursive: true })
  const files = [`${key.slice(0, 24)}-I.png`, `${key.slice(0, 24)}-P.jpg`].map((name) => join(folder, name))
  const { enlarged = 1 } = setting
  const shifts = clips.shifts(setting)
  if (!files.every((file) => existsSync(file))) {
    // Without filters and codec the frames before are nobody's.
    const isRaw = setting.filters === undefined && setting.codec === undefined
    const clip = clips.frames(setting).map((frame, at) => (isRaw && at < FRAMES - 2 ? NO_FRAME : frame()))
    const last = await throughRecorder(clip, setting, join(folder, `${key.slice(0, 24)}.mkv`))
    for (const [at, file] of files.entries()) {
      const raw = { width: FRAME_PX.width, height: FRAME_PX.height, channels: 1 as const }
      const still = sharp(last[at]!, { raw }).toColourspace('b-w')
      const size = [Math.round(enlarged * FRAME_PX.width), Math.round(enlarged * FRAME_PX.height)] as const
      const scaled = enlarged === 1 ? still : still.resize(...size, { fit: 'fill', kernel: 'cubic' })
      await (at === 0 ? scaled.png() : scaled.jpeg({ quality: JPEG_QUALITY })).toFile(`${file}.part`)
      renameSync(`${file}.part`, file)
    }
  }
  return files.map((file, at) => ({
    frame: at === 0 ? 'I' : 'P',
    moment: clips.moment,
    file,
    shift: shifts[FRAMES - 1 - at]!,
    enlarged,
  }))
}

/** The last frame and the one before it, grey, as they come out. */
async function throughRecorder(
  clip: readonly Uint8Array[],
  setting: Setting,
  coded: string,
): Promise<readonly Buffer[]> {
  const { filters, codec, mbit, woven } = setting
  const { width, height } = FRAME_PX
  const grey = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-s', `${width}x${height}`, '-r', '25', '-i', '-']
  const filtered = filters === undefined ? [] : ['-vf', filters]
  const size = width * height
  const lastTwo = (all: Buffer): Buffer[] => {
    if (all.length !== FRAMES * size)
      throw new Error(`ffmpeg gave ${all.length / size} frames, not ${FRAMES}`)
    return [1, 2].map((back) => all.subarray((FRAMES - back) * size, (FRAMES - back + 1) * size))
  }
  const input = Buffer.concat(clip)
  const out = ['-f', 'rawvideo', '-pix_fmt', 'gray', '-']
  if (codec === undefined)
    return filters === undefined
      ? lastTwo(input)
      : lastTwo(await ffmpeg([...grey, ...filtered, ...out], input))
  const kbit = Math.round((1000 * mbit! * size) / (2560 * 1440))
  const rate = ['-b:v', `${kbit}k`, '-maxrate', `${kbit}k`, '-bufsize', `${kbit}k`]
  const group = [
    '-g',
    `${GROUP}`,
    '-keyint_min',
    `${GROUP}`,
    '-bf',
    '0',
    '-sc_threshold',
    '0',
    '-preset',
    'medium',
  ]
  const plain = ['-threads', '1', '-pix_fmt', 'yuv420p']
  const own =
    codec === 'libx264'
      ? woven === true
        ? ['-flags', '+ilme+ildct']
        : []
      : [
          '-x265-params',
          `log-level=none:pools=1:frame-threads=1:keyint=${GROUP}:min-keyint=${GROUP}:bframes=0:scenecut=0:open-gop=0`,
        ]
  try {
    await ffmpeg(
      [...grey, ...filtered, '-c:v', codec, ...rate, ...group, ...plain, ...own, '-y', coded],
      input,
    )
    return lastTwo(await ffmpeg(['-i', coded, ...out]))
  } finally {
    rmSync(coded, { force: true })
  }
}

function ffmpeg(args: readonly string[], input?: Buffer): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const child = spawn('ffmpeg', ['-hide_banner', '-loglevel', 'error', ...args], {
      stdio: ['pipe', 'pipe', 'pipe'],
    })
    const [parts, said]: [Buffer[], Buffer[]] = [[], []]
    child.stdout.on('data', (part: Buffer) => parts.push(part))
    child.stderr.on('data', (part: Buffer) => said.push(part))
    child.on('error', reject)
    child.on('close', (status) =>
      status === 0
        ? resolve(Buffer.concat(parts))
        : reject(new Error(`ffmpeg: ${Buffer.concat(said).toString('utf8')}`)),
    )
    child.stdin.on('error', () => undefined)
    child.stdin.end(input)
  })
}
