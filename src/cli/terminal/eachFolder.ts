import { resolve } from 'node:path'
import { type ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { diskFault } from '../../files/writeWhole.js'

/**
 * Does something with every folder in its turn, each once. A fault of the user's in one does not keep the others from their turn: what was faulty is thrown
 * together at the end.
 * @throws `ProofwalkErrors` with every fault of the user's; at once what is a fault of our own
 */
export async function eachFolder(
  dirs: readonly string[],
  does: (dir: string) => Promise<void>,
): Promise<void> {
  const faults: ProofwalkError[] = []
  for (const dir of new Map(dirs.map((one) => [resolve(one), one])).values()) {
    try {
      await does(dir)
    } catch (error) {
      const told = diskFault(error)
      if (told === null || told.exitStatus === 3) throw error
      faults.push(...(told instanceof ProofwalkErrors ? told.faults : [told]))
    }
  }
  if (faults.length > 0) throw new ProofwalkErrors(faults)
}
