import { usePart } from '../state/pageStore.js'
import { PromiseList } from './PromiseList.js'
import { RangePlot } from './RangePlot.js'
import { WalkTable } from './WalkTable.js'

/** The walk at a glance: marks by light, promises, density against distance. */
export function WalkRoom() {
  const walk = usePart((state) => state.walk)!
  const results = usePart((state) => state.results)
  return (
    <main class="walk-room" id="main">
      <h1>
        {walk.site}, {walk.cameraName}
      </h1>
      <p class="lead" role="status">
        {sentence(results?.done ?? 0, results?.all ?? 0, walk.stills.length, results?.written ?? false)}
      </p>
      <WalkTable />
      <PromiseList />
      <RangePlot />
    </main>
  )
}

function sentence(done: number, all: number, stills: number, written: boolean): string {
  if (stills === 0) return 'There are no stills yet.'
  if (all === 0) return 'No still is ready to be measured: give them marks, lights and corners.'
  const rest = stills - all
  return (
    `${done} of ${all} ready stills measured${rest > 0 ? `, ${rest} more to be picked` : ''}. ` +
    (written ? 'results.json holds what stands here.' : 'Measure all writes results.json.')
  )
}
