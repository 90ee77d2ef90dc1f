import { spawnSync } from 'node:child_process'

/** Whether ffmpeg is here. Where it must be (CI) and is not, that is a failure and no reason to skip. */
export function hasFfmpeg(): boolean {
  const found = spawnSync('ffmpeg', ['-version']).error === undefined
  if (!found && process.env['CI'] !== undefined) throw new Error('CI needs ffmpeg: install ffmpeg')
  return found
}
