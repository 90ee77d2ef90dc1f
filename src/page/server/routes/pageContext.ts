import { failure, success, type Outcome } from '../../../math/outcome.js'
import type { HeldStill, HeldStills } from '../pictures/heldStills.js'
import type { PageEvents } from './pageEvents.js'
import type { BeginPlace } from '../walk/beginWalk.js'
import type { PageWalk } from '../walk/pageWalk.js'
import type { StampedStill } from '../pictures/stillHeads.js'
import type { StillThumbs } from '../pictures/stillThumbs.js'
import { pageSays } from '../../sentences.js'

/** What the routes of one server share. */
export interface PageContext {
  readonly walk: PageWalk
  readonly events: PageEvents
  readonly held: HeldStills
  readonly thumbs: StillThumbs
  /** Ends the server once what is being answered is. */
  quit(): void
}

/** What is served before there is a walk. */
export interface UnbegunPage {
  readonly events: PageEvents
  readonly place: BeginPlace
  /** Opens the walk of a folder: from then on it is served. */
  open(dir: string): Promise<void>
  quit(): void
}

/** A still of the walk by its path, as the walk's own list has it: no other file is ever opened. */
export function listedStill(context: PageContext, file: string): Outcome<StampedStill, 'no-such-still'> {
  const stamp = context.walk.reading().stamps.get(file)
  if (stamp === undefined) return failure(pageSays['no-such-still']())
  return success({ file, stamp })
}

/** A still of the walk, opened. */
export async function openedStill(context: PageContext, file: string): Promise<Outcome<HeldStill>> {
  const listed = listedStill(context, file)
  return listed.ok ? context.held.of(listed.value) : listed
}
