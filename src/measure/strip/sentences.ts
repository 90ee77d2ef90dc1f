import { catalogue } from '../../sentences.js'

const DETAIL = { topic: 'detail' } as const

/** What the strips of bars tell of a still, and why they tell nothing. */
export const stripSays = catalogue({
  'strip-not-seen': {
    ...DETAIL,
    say: 'the two strips of bars were not found under it, so low-contrast detail is not measured',
    mend: 'fix their sheet flush under the chart (100 mm or 4 in under a board), the right way up, all of it in the picture',
  },
  'strip-too-small': {
    ...DETAIL,
    say: 'the two strips of bars are too small here for low-contrast detail',
    mend: 'go nearer, or print them on larger paper',
  },
  'strip-part-covered': {
    ...DETAIL,
    say: 'a hand or a hard shadow covers the strips of bars, so low-contrast detail is not measured',
    mend: 'hold the board clear of them',
  },
  'strip-clipped': {
    ...DETAIL,
    say: 'the paper of the strips is pure white, so low-contrast detail is not measured',
    mend: 'use less exposure',
  },
  'fine-detail-taken': {
    ...DETAIL,
    means:
      'bars of low contrast come out fainter than black ones of the same widths. Noise reduction or the codec removed fine detail. Strong edges, plates and the chart then look better than a face or cloth would',
    say: (share: number) =>
      `the picture shows fine bars of low contrast ${100 - Math.round(100 * share)} % fainter than black ones: noise reduction or the codec removed fine detail`,
    mend: 'set less noise reduction and a higher bit rate',
  },
  sharpened: {
    ...DETAIL,
    means:
      'narrow black bars come out stronger against wide ones than any lens allows. The camera sharpens, so strong edges suggest more detail than there is',
    say: 'the camera sharpens: narrow black bars stand out more than any lens allows',
    mend: 'set less sharpening',
  },
  'contrast-altered': {
    ...DETAIL,
    means:
      'wide bars of low contrast do not have the contrast they should have beside black ones. The camera or the codec alters contrast by place or strength, or the sheet was printed too dark or too faint',
    say: (gain: number) =>
      `wide bars of low contrast come out with ${Math.round(100 * gain)} % of the contrast they should have: the camera or the codec alters contrast by place or strength`,
    mend: 'turn off local contrast and wide dynamic range, set a higher bit rate, or by day look at the print',
  },
})
