import { useEffect, useRef, useState } from 'preact/hooks'
import { address, fetchBlob } from './callServer.js'

interface Props {
  readonly path: string
  readonly parameters: Readonly<Record<string, string | number>>
  readonly alt: string
}

/** A picture of the server's, fetched once it comes near the view: only a fetched one carries the session. */
export function StillPicture({ path, parameters, alt }: Props) {
  const place = useRef<HTMLImageElement>(null)
  const [shown, setShown] = useState<string | null>(null)
  const wanted = address(path, parameters)
  useEffect(() => {
    const until = new AbortController()
    let url: string | null = null
    const load = async (): Promise<void> => {
      const blob = await fetchBlob(wanted, until.signal)
      if (blob === null || until.signal.aborted) return
      url = URL.createObjectURL(blob)
      setShown(url)
    }
    const near = new IntersectionObserver(
      (entries) => {
        if (!entries.some(({ isIntersecting }) => isIntersecting)) return
        near.disconnect()
        void load()
      },
      { rootMargin: '200px' },
    )
    near.observe(place.current!)
    return () => {
      near.disconnect()
      until.abort()
      if (url !== null) URL.revokeObjectURL(url)
    }
  }, [wanted])
  return <img ref={place} src={shown ?? NOTHING} alt={alt} draggable={false} />
}

/** One clear pixel. */
const NOTHING = 'data:image/gif;base64,R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7'
