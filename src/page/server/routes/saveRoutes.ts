import type * as z from 'zod'
import { failure, success, type Outcome } from '../../../math/outcome.js'
import type { Reference } from '../../../measure/reference/reference.js'
import { parseLength } from '../../../units/parseLength.js'
import { changeBorder } from '../../../walk/change/changeBorder.js'
import { changePick } from '../../../walk/change/changePick.js'
import { changeWalkStills, type StillChange } from '../../../walk/change/changeWalkStills.js'
import { isSameMark } from '../../../walk/read/sameMark.js'
import { toldByPath } from '../../../walk/stills/toldByPath.js'
import { lightAsWritten, lightOfWalk } from '../../../walk/read/walkWords.js'
import type { Walk } from '../../../walk/read/walk.js'
import type { PickView } from '../../api.js'
import { listedStill, type PageContext } from './pageContext.js'
import { pickEntryOf } from '../walk/pickEntryOf.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import { pageSays } from '../../sentences.js'

type AssignBody = z.output<typeof requestSchemas.assign>

/** POST a still's pick: saved at once, whole or not at all, against the pick it replaces. */
export async function pickRoute(
  context: PageContext,
  body: z.output<typeof requestSchemas.pick>,
  by: string | null,
): Promise<Reply> {
  const { file } = body
  const listed = listedStill(context, file)
  if (!listed.ok) return refusal(404, listed, file)
  const head = await context.walk.heads.read(listed.value)
  if (!head.ok) return refusal(422, head, file)
  if (head.head.sha256 !== body.sha256) {
    return refusal(422, pageSays['still-changed'](), file)
  }
  const entry = body.pick === null ? null : pickEntryOf(body.pick, body.sha256)
  if (entry?.ok === false) return refusal(422, entry, file)
  const named = body.pick?.reference ?? null
  if (entry !== null && named !== null) {
    const reference = referenceOf(context, named)
    if (reference === null) return refusal(422, pageSays['reference-unknown'](named), file)
    if (!fits(reference, entry.value.corners === undefined ? 'ends' : 'corners')) {
      return refusal(422, pageSays['pick-other-kind'](named), file)
    }
  }
  const saved = await context.walk.change(async () => {
    const value = await changePick(context.walk.dir, { file, was: body.was, entry: entry?.value ?? null })
    return { value, by: value.ok ? by : null, stills: [file] }
  })
  return saved.ok ? savedReply(context, [file]) : conflict(context, [file], saved.message)
}

/** POST where stills belong: all of the changes or none. */
export async function assignRoute(context: PageContext, body: AssignBody, by: string | null): Promise<Reply> {
  const files = body.changes.map(({ file }) => file)
  const unknown = files.find((file) => !listedStill(context, file).ok)
  if (unknown !== undefined) return refusal(404, pageSays['no-such-still'](), unknown)
  const views = new Map(context.walk.stills(files).map((view) => [view.file, view]))
  const { walk } = context.walk.reading()
  const newLights = new Map<string, string>()
  const changes: StillChange[] = []
  const picks: PickMove[] = []
  for (const change of body.changes) {
    const view = views.get(change.file)!
    if (change.reference !== null) {
      const reference = referenceOf(context, change.reference)
      if (reference === null)
        return refusal(422, pageSays['reference-unknown'](change.reference), change.file)
      const [pick, ...more] = view.picks
      // One of several is of what it is of.
      if (pick !== undefined && more.length === 0 && pick.reference !== change.reference) {
        if (!fits(reference, pick.corners === undefined ? 'ends' : 'corners'))
          return refusal(422, pageSays['points-do-not-fit'](change.reference), change.file)
        if (pick.reference !== null || view.reference !== change.reference)
          picks.push({ file: change.file, pick, reference: change.reference })
      }
    }
    const entry = entryFor(change, walk, newLights)
    if (!entry.ok) return refusal(422, entry, change.file)
    changes.push({ file: change.file, was: change.was, entry: entry.value })
  }
  if (newLights.size > 0 && body.addLights !== true) {
    const lights = [...newLights.values()].join(', ')
    return refusal(422, pageSays['unknown-light'](lights))
  }
  const saved = await context.walk.change<Outcome<'changed', 'conflict'>>(async () => {
    const value = await changeWalkStills(context.walk.dir, changes, [...newLights.values()])
    if (!value.ok) return { value, by: null, stills: files }
    for (const move of picks) await moveTo(context, move)
    return { value, by, stills: newLights.size > 0 ? null : files }
  })
  return saved.ok ? savedReply(context, files) : conflict(context, files, saved.message)
}

/** POST how the edge of a plate is made: written into walk.yaml, where it says nothing of it. */
export async function borderRoute(
  context: PageContext,
  { reference, border }: z.output<typeof requestSchemas.border>,
  by: string | null,
): Promise<Reply> {
  const saved = await context.walk.change(async () => {
    const value = await changeBorder(context.walk.dir, reference, border)
    return { value, by: value.ok ? by : null, stills: null }
  })
  return saved.ok ? savedReply(context, []) : conflict(context, [], saved.message)
}

/** The pick of a still that becomes one of another reference. */
interface PickMove {
  readonly file: string
  readonly pick: PickView
  readonly reference: string
}

/** A pick that was changed meanwhile is left: the page is told of it as it is. */
async function moveTo(context: PageContext, { file, pick, reference }: PickMove): Promise<void> {
  const [known] = context.walk.reading().picks.get(file.normalize('NFC')) ?? []
  if (known === undefined) return
  const { corners, ends, method, sigma, covariance, doubts, version } = pick
  const entry = pickEntryOf({ reference, method, sigma, corners, ends, covariance, doubts }, known.sha256)
  if (entry.ok) await changePick(context.walk.dir, { file, was: version, entry: entry.value })
}

/** The words for walk.yaml; none where they tell no more than the still's own path. Lights the walk does not have are gathered by how they compare. */
function entryFor(
  change: AssignBody['changes'][number],
  walk: Walk,
  newLights: Map<string, string>,
): Outcome<StillChange['entry']> {
  const told = toldByPath(change.file, walk.lights)
  let light = told.light
  if (change.light !== null) {
    const known = lightOfWalk(change.light, walk.lights)
    const added = [...newLights.values()].find((one) => lightOfWalk(change.light!, [one]) !== null)
    light = known ?? added ?? lightAsWritten(change.light)
    if (known === null && added === undefined) newLights.set(light, light)
  }
  let distanceM = told.distanceM
  if (change.mark !== null) {
    const length = parseLength(change.mark)
    if (!length.ok) return length
    if (length.value <= 0) return failure(pageSays['no-length']())
    distanceM = length.value
  }
  if (change.mark === null && change.light === null && change.reference === null) return success(null)
  if (distanceM === null) return failure(pageSays['no-mark']())
  if (light === null) return failure(pageSays['no-light']())
  const asNamed =
    told.distanceM !== null &&
    isSameMark(told.distanceM, distanceM) &&
    told.light === light &&
    change.reference === null
  if (asNamed) return success(null)
  const mark = change.mark?.trim() ?? `${Number(distanceM.toFixed(4))} m`
  return success({ file: change.file, mark, light, reference: change.reference })
}

function referenceOf(context: PageContext, name: string): Reference | null {
  return context.walk.reading().walk.references.find((one) => one.name === name)?.reference ?? null
}

function fits(reference: Reference, points: 'corners' | 'ends'): boolean {
  return (reference.kind === 'length') === (points === 'ends')
}

function savedReply(context: PageContext, files: readonly string[]): Reply {
  return jsonReply({ revision: context.walk.revision(), stills: context.walk.stills(files) })
}

function conflict(context: PageContext, files: readonly string[], message: string): Reply {
  const stills = context.walk.stills(files)
  return jsonReply({ code: 'conflict', message, revision: context.walk.revision(), stills }, 409)
}
