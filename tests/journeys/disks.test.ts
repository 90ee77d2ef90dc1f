import { spawnSync } from 'node:child_process'
import { writeFile } from 'node:fs/promises'
import { describe, expect, test } from 'vitest'
import { BIN, runProgram, runThroughShell, type Run } from './runProofwalk.js'
import { boardStill, put } from './smallWalk.js'
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

/** Drops a file on the page of a running `pick`, whose words lie in a file, and prints what came of it. */
const DROP = `import { readFileSync, writeFileSync, existsSync } from 'node:fs'
const [said, file] = process.argv.slice(2)
let address = null
while ((address = /http:\\S+/.exec(readFileSync(said, 'utf8'))?.[0] ?? null) === null) await new Promise((go) => setTimeout(go, 50))
const { origin, hash } = new URL(address)
const [held, type] = [file.replace(/[^/]+$/, 'session'), { 'Content-Type': 'application/json', Origin: origin }]
if (!existsSync(held)) {
  const entered = await fetch(origin + '/api/enter', { method: 'POST', headers: type, body: JSON.stringify({ token: hash.slice(1) }) })
  writeFileSync(held, (await entered.json()).session)
}
const headers = { ...type, 'Content-Type': 'application/octet-stream', 'X-Session': readFileSync(held, 'utf8') }
const name = file.split('/').at(-1)
const answer = await fetch(origin + '/api/drop?name=' + name, { method: 'POST', headers, body: readFileSync(file) })
const told = await answer.json()
console.log(answer.status, told.message ?? told.file)`

describe.skipIf(!canMount())('disks (skipped only where none may be mounted)', () => {
  // The one draws on two threads of its own, the other on that of the command.
  test.each(['--workers 2', '--reading'])(
    'demo %s on a full disk ends and says so',
    async (options) => {
      const lines = `proofwalk demo $disk/demo ${options}; echo "status $?"; ls -A $disk`
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
      `cp -r ${walk} $disk/walk; proofwalk measure $disk/walk --no-scene >/dev/null; cp $disk/walk/results.json $disk/walk/last
       rm -r $disk/walk/.proofwalk; echo 'notes: more' >> $disk/walk/walk.yaml
       dd if=/dev/zero of=$disk/filler 2>/dev/null; proofwalk measure $disk/walk --no-scene; echo "status $?"
       cmp $disk/walk/last $disk/walk/results.json && find $disk -name '*.part'`,
    )
    expect(run.err).toContain('results.json: cannot be written: the disk is full; make room on the disk\n')
    expect(run.out).toBe('status 2\n')
  }, 120_000)

  test('a still dropped on a full disk leaves nothing, and the page goes on', async () => {
    const walk = await home.freshWalk('for-drop')
    const client = home.path('drop.mjs')
    await writeFile(client, DROP)
    const still = await boardStill(5, 'jpeg', 31)
    await put(home.path(), 'large.jpg', Buffer.concat([still, Buffer.alloc(3_000_000)]))
    await put(home.path(), 'small.jpg', still)
    const run = await besideDisk(
      home.path('drop-full'),
      '4m',
      `cp -r ${walk} $disk/walk; ${process.execPath} ${BIN} pick $disk/walk --no-open >$disk/said & pick=$!
       dd if=/dev/zero of=$disk/filler bs=1k count=3000 2>/dev/null
       ${process.execPath} ${client} $disk/said ${home.path('large.jpg')}; find $disk -name '*.part'; rm $disk/filler
       ${process.execPath} ${client} $disk/said ${home.path('small.jpg')}; ls $disk/walk/stills; kill $pick; wait`,
    )
    expect(run.out).toMatch(
      /^422 .*stills\/large\.jpg: cannot be written: the disk is full; make room on the disk\n200 stills\/small\.jpg\nday\nsmall\.jpg\n$/,
    )
    expect(run.err).not.toContain('a fault of our own')
  }, 120_000)

  test('a disk that fills up before the sheet is written keeps the last sheet, and is told', async () => {
    const walk = await home.freshWalk('for-full-sheet')
    const run = await besideDisk(
      home.path('sheet-full'),
      '4m',
      `cp -r ${walk} $disk/walk; proofwalk sheet $disk/walk >/dev/null; cp $disk/walk/sheet.pdf $disk/last
       echo 'notes: more' >> $disk/walk/walk.yaml; proofwalk measure $disk/walk >/dev/null
       dd if=/dev/zero of=$disk/filler 2>/dev/null; proofwalk sheet $disk/walk; echo "status $?"
       cmp $disk/last $disk/walk/sheet.pdf && find $disk -name '*.part'`,
    )
    expect(run.err).toContain('sheet.pdf: cannot be written: the disk is full; make room on the disk\n')
    expect(run.out).toBe('status 2\n')
  }, 120_000)

  test('a disk that takes no writing is told', async () => {
    const walk = await home.freshWalk('for-read-only')
    const lines = `cp -r ${walk} $disk/walk; mount -o remount,ro $disk; proofwalk measure $disk/walk --no-scene; echo "status $?"`
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
  const large = await runThroughShell('trap "" XFSZ; ulimit -f 2; exec "$@"', ['measure', walk, '--no-scene'])
  expect(large.err).toContain('results.json: cannot be written: it is too large for the disk or the system; ')
  expect(large.status).toBe(2)
  const few = await runThroughShell('ulimit -n 21; exec "$@"', ['measure', walk])
  expect(few.err).not.toContain('a fault of our own')
})
