import { access } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { shellWord } from '../terminal/shellWord.js'

/**
 * What a person would do after measuring one still: where it lies in a walk (`DIR/stills/<light>/FILE`), measure that walk, once its corners are
 * in the walk's picks; else begin a walk.
 */
export async function nextAfterStill(path: string): Promise<string> {
  const dir = join(dirname(path), '..', '..')
  const isInWalk = await access(join(dir, 'walk.yaml')).then(
    () => true,
    () => false,
  )
  if (!isInWalk) return 'Next: proofwalk new my-camera'
  return `Next: put its points into ${join(dir, 'picks.json')}, then proofwalk measure ${shellWord(dir)}`
}
