import { AnswerPanel } from '../answer/AnswerPanel.js'
import { BorderPanel } from './BorderPanel.js'
import { BulkPanel } from '../strip/BulkPanel.js'
import { BeginWalk } from '../begin/BeginWalk.js'
import { AssignBar } from '../strip/AssignBar.js'
import type { Desk } from '../desk/desk.js'
import { AddStills, DropPanel, DropTarget } from './DropPanel.js'
import { KeysPanel } from './KeysPanel.js'
import { NoticeList } from './NoticeList.js'
import { usePart } from '../state/pageStore.js'
import { SheetPanel } from './SheetPanel.js'
import { StillDesk } from '../desk/StillDesk.js'
import { StillStrip } from '../strip/StillStrip.js'
import { TopBar } from './TopBar.js'
import { WalkRoom } from '../answer/WalkRoom.js'

/** The whole page: a bar, then either the stills or the walk at a glance. */
export function App({ desk }: { readonly desk: Desk }) {
  const room = usePart((state) => state.room)
  const begin = usePart((state) => state.begin)
  const isRead = usePart((state) => state.walk !== null)
  const isEmpty = usePart((state) => state.walk !== null && state.walk.stills.length === 0)
  const bulk = usePart((state) => state.bulk)
  const sheetAsk = usePart((state) => state.sheetAsk)
  const keysShown = usePart((state) => state.keysShown)
  return (
    <>
      <TopBar />
      <NoticeList />
      <DropPanel />
      {begin !== null ? (
        <BeginWalk view={begin} />
      ) : !isRead ? (
        <main class="waiting" id="main">
          <p>Reading the walk …</p>
        </main>
      ) : room === 'walk' ? (
        <WalkRoom />
      ) : isEmpty ? (
        <EmptyWalk />
      ) : (
        <main class="stills" id="main">
          <StillStrip />
          <section class="work" aria-label="The still at hand">
            <AssignBar />
            <StillDesk desk={desk} />
          </section>
          <AnswerPanel />
        </main>
      )}
      <footer class="foot">
        <p>
          Stills stay on this machine. They show people or plates: share pictures and sheet with care. A grade
          describes picture detail, never identity.
        </p>
      </footer>
      <BorderPanel />
      <DropTarget />
      {keysShown ? <KeysPanel /> : null}
      {sheetAsk === null ? null : <SheetPanel ask={sheetAsk} />}
      {bulk === null ? null : <BulkPanel bulk={bulk} />}
    </>
  )
}

function EmptyWalk() {
  const folder = usePart((state) => state.walk!.folder)
  return (
    <main class="waiting" id="main">
      <h1>No stills yet</h1>
      <p>
        Export a still at each mark at full size from the recorder, and drop the stills on this page: they are
        copied into <code>{folder}/stills/</code>. A name such as <code>16m-day.jpg</code> tells mark and
        light; stills of other names are assigned here. What is put into that folder by hand is shown as it
        arrives.
      </p>
      <p class="waiting-acts">
        <AddStills isMain />
      </p>
    </main>
  )
}
