import type { Metadata } from 'sharp'

/** Something about how a still is read that the reader should know: a stable code and a sentence. */
export interface StillRemark {
  readonly code: 'still-first-of-several' | 'still-not-opaque' | 'still-converted' | 'still-palette'
  readonly message: string
}

/** The remarks that a picture's head gives rise to. */
export function stillRemarks(head: Metadata): readonly StillRemark[] {
  const remarks: StillRemark[] = []
  if ((head.pages ?? 1) > 1) {
    remarks.push({
      code: 'still-first-of-several',
      message: `the file holds ${head.pages} pictures; the first is measured`,
    })
  }
  if (head.hasAlpha) {
    remarks.push({
      code: 'still-not-opaque',
      message: 'the picture carries opacity, so it was edited; what is not opaque is laid over white',
    })
  }
  if (head.space === 'cmyk') {
    remarks.push({
      code: 'still-converted',
      message:
        'the colours are those of print (CMYK), so it was edited; they are converted to sRGB, which shifts its tones',
    })
  }
  if (head.isPalette === true) {
    remarks.push({
      code: 'still-palette',
      message:
        'the file keeps a palette of at most 256 colours, so shades may stand in steps and edges look sharper than they were; export the still at full colour',
    })
  }
  return remarks
}
