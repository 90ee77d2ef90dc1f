import type { CameraLens } from '../../lens/cameraLens.js'
import { centredLens } from '../../lens/knownLens.js'
import { groupBy } from '../../math/groupBy.js'
import type { Registration } from '../../scene/registerStills.js'
import { registerStills } from '../../scene/registerStills.js'
import type { Scene, SceneLight, SceneStill } from '../../scene/scene.js'
import type { SceneMatches } from '../../scene/sceneMatches.js'
import type { SceneWay, ShownParts } from '../../scene/sceneWays.js'
import type { ToldMotion } from '../../scene/toldMotion.js'

/** A still that may be registered: those of one size alone are held against each other. */
export interface StillOfScene {
  readonly file: string
  readonly sha256: string
  readonly light: string
  readonly distanceM: number
  readonly width: number
  readonly height: number
}

/** Gives what of one still is found in another; null where one of them is no longer what was measured. */
export type MatchStills = (
  one: StillOfScene,
  other: StillOfScene,
  way: SceneWay,
  parts: ShownParts,
) => Promise<SceneMatches | null>

/** So many stills in turn are tried as the one that the others of a light are held against. */
const MOST_VIEWS = 3

/** A still of a view with how it lies against that view's own. */
interface Placed {
  readonly still: StillOfScene
  /** Null of the one that the others are held against. */
  readonly motion: ToldMotion | null
}

/**
 * Registers the stills of a walk: those of a light against one of them, that of each light against an earlier light's. `lensOf` is the lens of a light, null where it is not known.
 * Null where nothing is told.
 */
export async function sceneOfStills(
  stills: readonly StillOfScene[],
  lensOf: (light: string) => CameraLens | null,
  match: MatchStills,
): Promise<Scene | null> {
  const register = (one: StillOfScene, other: StillOfScene, within: 'inside' | 'between') => {
    const lens = lensOf(one.light)
    const own = lens === null ? null : centredLens(lens, one.width, one.height)
    return registerStills((way, parts) => match(one, other, way, parts), within, own, one)
  }
  const told: SceneStill[] = []
  const lights: SceneLight[] = []
  const references: StillOfScene[] = []
  for (const [light, ofLight] of groupBy(stills, (still) => still.light)) {
    // Where the walker is farthest, least of the scene is hidden.
    const farthestFirst = ofLight.toSorted((a, b) => b.distanceM - a.distanceM)
    const { reference, seen } = await lightOf(farthestFirst, (one, other) => register(one, other, 'inside'))
    told.push(...seen)
    for (const earlier of references) {
      if (earlier.width !== reference.width || earlier.height !== reference.height) continue
      const { motion } = await register(earlier, reference, 'between')
      if (motion === null) continue
      lights.push({ light, against: earlier.light, ...motion })
      break
    }
    references.push(reference)
  }
  const order = new Map(stills.map(({ file }, index) => [file, index]))
  told.sort((a, b) => order.get(a.file)! - order.get(b.file)!)
  return told.length === 0 && lights.length === 0 ? null : { stills: told, lights }
}

type Register = (one: StillOfScene, other: StillOfScene) => Promise<Registration>

/** The stills of one light: the views they show, and in the view of most how each lies. None where no two show one view. */
async function lightOf(
  stills: readonly StillOfScene[],
  register: Register,
): Promise<{ readonly reference: StillOfScene; readonly seen: readonly SceneStill[] }> {
  const views: Placed[][] = []
  const others = new Set<StillOfScene>()
  let open = stills
  while (open.length > 0 && views.length < MOST_VIEWS) {
    const { view, left } = await viewFrom(open, register, others)
    views.push(view)
    open = left
  }
  const [main, ...further] = views.toSorted((a, b) => b.length - a.length)
  if (main === undefined || main.length < 2) return { reference: stills[0]!, seen: [] }
  const groups = await groupsOf(main, register)
  const inDegrees = main.some(({ motion }) => (motion?.turn ?? null) !== null)
  const elsewhere = [
    ...further.filter((view) => view.length > 1).map((view) => view.map(({ still }) => still)),
    ...[
      ...further
        .filter((view) => view.length === 1)
        .flat()
        .map(({ still }) => still),
      ...open,
    ]
      .filter((still) => others.has(still))
      .map((still) => [still]),
  ]
  const seen = [
    ...groups.flatMap((group, index) => group.map((placed) => entryOf(placed, index, inDegrees))),
    ...elsewhere.flatMap((view, index) => view.map(({ file }) => otherView(file, groups.length + index))),
  ]
  return { reference: groups[0]![0]!.still, seen }
}

/** What shows the same as the first of some stills, and the rest; `others` gets those of both that plainly show something else. */
async function viewFrom(
  [first, ...rest]: readonly StillOfScene[],
  register: Register,
  others: Set<StillOfScene>,
): Promise<{ readonly view: Placed[]; readonly left: StillOfScene[] }> {
  const view: Placed[] = [{ still: first!, motion: null }]
  const left: StillOfScene[] = []
  for (const still of rest) {
    const { motion, isOtherView } = await register(first!, still)
    if (motion !== null) view.push({ still, motion })
    else left.push(still)
    if (isOtherView) others.add(still).add(first!)
  }
  return { view, left }
}

/** The stills of a view that stand alike, the most first; all held against one of these. */
async function groupsOf(view: readonly Placed[], register: Register): Promise<Placed[][]> {
  const groups = alike(view)
  const [most] = groups
  const reference = most![0]!.still
  if (reference === view[0]!.still) return groups
  const { view: anew } = await viewFrom(
    [reference, ...view.map(({ still }) => still).filter((still) => still !== reference)],
    register,
    new Set(),
  )
  return alike(anew)
}

function alike(view: readonly Placed[]): Placed[][] {
  const groups: Placed[][] = []
  for (const placed of view) {
    const group = groups.find(([first]) => standAlike(first!.motion, placed.motion))
    if (group === undefined) groups.push([placed])
    else group.push(placed)
  }
  return groups.toSorted((a, b) => b.length - a.length)
}

const UNMOVED = { turn: null, shift: { x: 0, y: 0 }, scale: 1, u: { turn: 0, shift: 0, scale: 0 } }

/** Whether two stills lie alike against a third, within what is known of both. */
function standAlike(one: ToldMotion | null, other: ToldMotion | null): boolean {
  const [a, b] = [one ?? UNMOVED, other ?? UNMOVED]
  const off = Math.hypot(a.shift.x - b.shift.x, a.shift.y - b.shift.y)
  return (
    off <= Math.hypot(a.u.shift, b.u.shift) && Math.abs(a.scale - b.scale) <= Math.hypot(a.u.scale, b.u.scale)
  )
}

function entryOf({ still: { file }, motion }: Placed, group: number, inDegrees: boolean): SceneStill {
  if (motion !== null) return { file, group, ...motion }
  return { file, group, ...UNMOVED, turn: inDegrees ? { pan: 0, tilt: 0, roll: 0 } : null, matches: 0 }
}

function otherView(file: string, group: number): SceneStill {
  return { file, group, turn: null, shift: null, scale: null, u: null, matches: 0 }
}
