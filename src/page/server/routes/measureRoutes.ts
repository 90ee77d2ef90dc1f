import type * as z from 'zod'
import { failure } from '../../../math/outcome.js'
import { gradeStill } from '../../../grade/gradings/gradeStill.js'
import { measureStill } from '../../../measure/measureStill.js'
import { seenRim } from '../../../measure/snap/seenRim.js'
import { snapCorners } from '../../../measure/snap/snapCorners.js'
import { gradingNeeds } from '../../../walk/stills/planStills.js'
import { pickOf } from '../../../walk/read/readPicks.js'
import type { PickDoubt } from '../../../measure/reference/pick.js'
import { resolveReference } from '../../../walk/stills/resolveReference.js'
import { stillEntry } from '../../../walk/measure/stillEntry.js'
import { lineOfSightM } from '../../../walk/read/walkHeights.js'
import type { BorderSeen, MeasureAnswer, SnapAnswer } from '../../api.js'
import { openedStill, type PageContext } from './pageContext.js'
import { pickEntryOf } from '../walk/pickEntryOf.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import { pageSays } from '../../sentences.js'

/** POST a pick to be measured: the entry the still would have in `results.json`, by the same code as `measure`. */
export async function measureRoute(
  context: PageContext,
  { file, pick }: z.output<typeof requestSchemas.measure>,
): Promise<Reply> {
  const held = await openedStill(context, file)
  if (!held.ok) return answer(held)
  const { still } = held.value
  const entry = pickEntryOf(pick, still.sha256)
  if (!entry.ok) return answer(entry)
  const { walk } = context.walk.reading()
  const reference = resolveReference(walk, { referenceName: null }, { reference: pick.reference })
  if (!reference.ok) return answer(reference)
  const [view] = context.walk.stills([file])
  const distanceM = view?.mark?.distanceM ?? null
  const measured = await measureStill(await held.value.whole(), {
    reference: reference.value.reference.reference,
    pick: pickOf(entry.value),
    distanceM: distanceM === null ? null : lineOfSightM(walk, reference.value.reference.name, distanceM),
    promisedSize: walk.camera.image,
    ...gradingNeeds(walk.grading),
  })
  if (!measured.ok) return answer(measured)
  const problems = [...still.remarks, ...measured.value.problems]
  const graded = gradeStill({ ...measured.value, problems }, walk.grading, walk.judge, view?.light ?? null)
  const place = {
    file,
    sha256: still.sha256,
    takenAt: view?.head?.takenAt ?? null,
    light: view?.light ?? null,
    distanceM,
    reference: reference.value.reference.name,
    pick: pickOf(entry.value),
  }
  return answer({
    ok: true,
    entry: stillEntry(place, { ...measured.value, problems }, graded, graded.problems),
  })
}

/** POST an outline to be fitted to the edges around it. */
export async function snapRoute(
  context: PageContext,
  { file, reference: name, corners, placed, clickSigma }: z.output<typeof requestSchemas.snap>,
): Promise<Reply> {
  const reference = context.walk.reading().walk.references.find((one) => one.name === name)?.reference
  if (reference === undefined) return refusal(422, pageSays['reference-unknown'](name), file)
  if (reference.kind !== 'rectangle') {
    return snapped(failure(pageSays['snap-no-outline']()))
  }
  const held = await openedStill(context, file)
  if (!held.ok) return snapped(held)
  const fit = await snapCorners(await held.value.whole(), reference, corners, {
    placed,
    clickSigmaPx: clickSigma,
  })
  if (!fit.ok) return snapped(fit)
  const { residualPx, movedPx, doubts } = fit.value
  return snapped({
    ok: true,
    pick: {
      reference: name,
      corners: fit.value.corners,
      method: 'snapped',
      sigma: fit.value.sigmaPx,
      covariance: fit.value.covariancePx2,
      ...(doubts.length === 0 ? {} : { doubts: doubts.map(doubtOf) }),
    },
    sigmaPx: fit.value.sigmaPx,
    residualPx,
    movedPx,
    remarks: doubts.map(({ code, message }) => ({ code, message })),
  })
}

/** POST a plate whose border nobody said: the nearest picked still that shows one. */
export async function borderSeenRoute(
  context: PageContext,
  { reference: name }: z.output<typeof requestSchemas.borderSeen>,
): Promise<Reply> {
  const { references } = context.walk.reading().walk
  const reference = references.find((one) => one.name === name)?.reference
  // A pick of the walk's only reference need not name it.
  const only = references.length === 1 ? name : null
  if (reference?.kind !== 'rectangle' || reference.border !== undefined) return jsonReply(null)
  const picked = context.walk.view().stills.flatMap(({ file, mark, picks }) => {
    const own = picks.find((pick) => (pick.reference ?? only) === name && !pick.stale)
    return own?.corners === undefined
      ? []
      : [{ file, corners: own.corners, farM: mark?.distanceM ?? Infinity }]
  })
  for (const { file, corners } of picked.sort((a, b) => a.farM - b.farM)) {
    const held = await openedStill(context, file)
    const seen = held.ok ? await seenRim(held.value.still, corners, reference) : null
    if (seen === null) continue
    // To half a millimetre: more is not told by a line thinner than the blur.
    const width = `${Math.round(2000 * seen.widthM) / 2} mm`
    return jsonReply({ reference: name, file, width, sides: seen.sides } satisfies BorderSeen)
  }
  return jsonReply(null)
}

/** As picks.json keeps it. */
const doubtOf = ({ code, corners }: PickDoubt): PickDoubt => ({
  code,
  ...(corners === undefined ? {} : { corners }),
})
const answer = (body: MeasureAnswer): Reply => jsonReply(body)
const snapped = (body: SnapAnswer): Reply => jsonReply(body)
