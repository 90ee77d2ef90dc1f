import { spawnSync } from 'node:child_process'
import { describe, expect, test } from 'vitest'
import { BIN, runProgram, runThroughShell, type Run } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** A namespace of one's own, in which a small disk can be mounted, with the rights of a user or of root. */
const OWN_MOUNTS = ['unshare', '-rm'] as const
const canMount = (): boolean =>
  spawnSync(OWN_MOUNTS[0], [OWN_MOUNTS[1], 'mount', '-t', 'tmpfs', 'tmpfs', '/mnt']).status === 0

/** Runs lines of bash beside a disk of its own, mounted at `$disk`; `proofwalk` is the command. */
function besideDisk(disk: string, size: string, lines: string): Promise<Run> {
  const script = `disk=${disk}; mkdir -p $disk; mount -t tmpfs -o size=${size} tmpfs $disk
    proofwalk() { ${process.execPath} ${BIN} "$@"; }
    ${lines}`
  return runProgram(OWN_MOUNTS[0], [OWN_MOUNTS[1], 'bash', '-c', script])
}

describe.skipIf(!canMount())('disks (skipped only where none may be mounted)', () => {
  test.each([1, 2])(
    'demo on a full disk ends and says so, on %i threads',
    async (workers) => {
      const lines = `proofwalk demo $disk/demo --workers ${workers}; echo "status $?"; ls -A $disk`
      const run = await besideDisk(home.path('full'), '40k', lines)
      expect(run.err).toMatch(/^proofwalk: .+cannot be written: the disk is full; make room on the disk\n$/)
      expect(run.out).toBe('status 2\n')
    },
    120_000,
  )

  test('a walk on a full disk keeps its last results and says so', async () => {
    const walk = await home.freshWalk('for-full')
    const run = await besideDisk(
      home.path('walk-full'),
      '4m',
      `cp -r ${walk} $disk/walk; proofwalk measure $disk/walk >/dev/null; cp $disk/walk/results.json $disk/walk/last
       rm -r $disk/walk/.proofwalk; echo 'notes: more' >> $disk/walk/walk.yaml
       dd if=/dev/zero of=$disk/filler 2>/dev/null; proofwalk measure $disk/walk; echo "status $?"
       cmp $disk/walk/last $disk/walk/results.json && find $disk -name '*.part'`,
    )
    expect(run.err).toContain('results.json: cannot be written: the disk is full; make room on the disk\n')
    expect(run.out).toBe('status 2\n')
  }, 120_000)

  test('a disk that takes no writing is told', async () => {
    const walk = await home.freshWalk('for-read-only')
    const lines = `cp -r ${walk} $disk/walk; mount -o remount,ro $disk; proofwalk measure $disk/walk; echo "status $?"`
    const run = await besideDisk(home.path('read-only'), '4m', lines)
    expect(run.err).toContain('results.json: cannot be written: the disk is read-only; ')
    expect(run.out).toBe('status 2\n')
  }, 120_000)

  test('a stick pulled out in the middle is survived and said', async () => {
    const walk = await home.freshWalk('for-pulled')
    const lines = `cp -r ${walk} $disk/walk; for i in $(seq 200); do cp $disk/walk/stills/day/4m.jpg $disk/walk/stills/day/4m-$i.jpg; done
       proofwalk measure $disk/walk & sleep 0.2; while ! [ -e $disk/walk/.proofwalk ]; do sleep 0.05; done
       umount -l $disk; wait $!; echo "status $?"; ls -A $disk`
    const run = await besideDisk(home.path('pulled'), '200m', lines)
    expect(run.err).toContain('walk: went away while it was measured, and nothing was written; put its disk')
    expect(run.err).not.toContain('a fault of our own')
    expect(run.out).toBe('status 2\n')
  }, 120_000)
})

test('a file larger than the system takes is told, and so are too many open ones', async () => {
  const walk = await home.freshWalk('for-limits')
  const large = await runThroughShell('trap "" XFSZ; ulimit -f 2; exec "$@"', ['measure', walk])
  expect(large.err).toContain('results.json: cannot be written: it is too large for the disk or the system; ')
  expect(large.status).toBe(2)
  const few = await runThroughShell('ulimit -n 21; exec "$@"', ['measure', walk])
  expect(few.err).not.toContain('a fault of our own')
})
