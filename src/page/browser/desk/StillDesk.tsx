import { useLayoutEffect, useRef } from 'preact/hooks'
import { deskGestures } from './deskGestures.js'
import type { Desk } from './desk.js'
import { isFoundChart, isPlacing, shownPoints } from './shownPoints.js'
import { HintLine } from './HintLine.js'
import { usePart, useStore } from '../state/pageStore.js'

const CORNER_NAMES = ['top left', 'top right', 'bottom right', 'bottom left'] as const

/** The current still, large, with its points, the loupe and what to do next. */
export function StillDesk({ desk }: { readonly desk: Desk }) {
  const store = useStore()
  const box = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const loupe = useRef<HTMLCanvasElement>(null)
  const handles = useRef<HTMLDivElement>(null)
  const file = usePart((state) => state.current)
  const placing = usePart(isPlacing)
  useLayoutEffect(() => {
    const detach = desk.attach({
      box: box.current!,
      canvas: canvas.current!,
      loupe: loupe.current!,
      handles: handles.current!,
    })
    const stop = deskGestures(store, desk, box.current!)
    return () => {
      stop()
      detach()
    }
  }, [store, desk])
  return (
    <div class="desk">
      <div
        class="desk-box"
        ref={box}
        tabIndex={0}
        role="application"
        aria-label={`Still ${file ?? ''}. ${placing ? 'Arrow keys move the cross, the space bar clicks.' : 'Arrow keys move the picture, Tab goes to the corners.'}`}
        data-placing={placing}
      >
        <canvas class="desk-canvas" ref={canvas} />
        <div ref={handles} class="handles">
          <PointButtons />
        </div>
        <canvas class="loupe" ref={loupe} aria-hidden="true" />
      </div>
      <div class="under">
        <HintLine />
        <div class="zoom" role="group" aria-label="Zoom">
          <button type="button" aria-label="Zoom out" onClick={() => desk.zoom(1 / 1.4)}>
            −
          </button>
          <button type="button" aria-label="Zoom in" onClick={() => desk.zoom(1.4)}>
            +
          </button>
          <button type="button" onClick={() => desk.whole()}>
            Whole
          </button>
          <button type="button" onClick={() => desk.place()}>
            Place
          </button>
        </div>
      </div>
    </div>
  )
}

function PointButtons() {
  const store = useStore()
  const isChart = usePart(isFoundChart)
  const placing = usePart(isPlacing)
  const points = usePart((state) => JSON.stringify(shownPoints(state)))
  const chosen = usePart((state) => state.point)
  if (isChart) return null
  const list = JSON.parse(points) as [number, number][]
  return (
    <>
      {list.map(([x, y], index) => (
        <button
          type="button"
          key={index}
          class="handle"
          aria-pressed={chosen === index}
          aria-label={`${nameOf(index, list.length, placing)}: ${x.toFixed(1)} across, ${y.toFixed(1)} down`}
          onFocus={() => store.put({ point: index })}
        />
      ))}
    </>
  )
}

function nameOf(index: number, count: number, placing: boolean): string {
  if (placing) return `Placed point ${index + 1}`
  return count === 2 ? `End ${index + 1}` : `Corner ${CORNER_NAMES[index] ?? ''}`
}
