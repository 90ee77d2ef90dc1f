import { oneLine } from '../files/oneLine.js'
import { catalogue, countOf } from '../sentences.js'

const VERIFY = { topic: 'files' } as const

/** All that sheet, plan and summary say beyond their standing paragraphs, and what is said of a sheet that is verified. Figures come printed. */
export const sheetSays = catalogue({
  'nothing-measured-or-promised': {
    topic: 'marks',
    say: 'No still could be measured, and no grade was promised',
  },
  'nothing-promised': {
    topic: 'marks',
    say: (marks: number, stills: number) =>
      `No grade was promised. ${countOf(marks, 'mark')} measured on ${countOf(stills, 'still')}`,
  },
  'judged-anywhere': {
    topic: 'marks',
    say: 'judged by pixels alone, at the greatest density anywhere in the exported picture. Another stream or a zoom may see more. A mask set in the camera was not checked',
  },
  'judged-by-readers': {
    topic: 'marks',
    say: 'judged by what readers read, who were shown nothing but pictures of unknown text. Pixels explain it and decide nothing here',
  },
  'how-it-was-read': {
    topic: 'marks',
    say: 'Readers saw one picture at a time in random order, without mark, light or name, and typed what they read. Below each picture stands what it says, then what readers typed',
  },
  'read-out-to': {
    topic: 'marks',
    say: (most: string | null, half: string | null) =>
      most === null && half === null
        ? 'how far out it is read is not known'
        : `on average over readers and texts, 95 % of characters are read out to ${most ?? 'an unknown distance'}. Half are read out to ${half ?? 'an unknown distance'}`,
  },
  'read-by': {
    topic: 'marks',
    say: (readers: number, texts: number, names: string) =>
      `read by ${countOf(readers, 'reader')} from ${countOf(texts, 'text')}: ${names}`,
  },
  'readers-agree': {
    topic: 'marks',
    say: (share: string) => `two readers of one picture agree on ${share} of its characters`,
  },
  'read-masked': {
    topic: 'marks',
    say: 'the pictures that readers saw are left out, as this sheet hides what they show',
  },
  'must-be-read': {
    topic: 'marks',
    say: (promised: number, met: number, notShown: number) =>
      `What must be read, shown blind to readers: ${met} of ${promised} met` +
      (promised > met + notShown ? `, ${promised - met - notShown} not met` : '') +
      (notShown > 0 ? `, ${notShown} not shown` : ''),
  },
  'must-not-see': {
    topic: 'marks',
    say: (limits: number, met: number, notShown: number) =>
      `${met} of ${limits} ${limits === 1 ? 'limit' : 'limits'} on what it may see kept${notShown > 0 ? `, ${notShown} not shown` : ''}`,
  },
  'site-cameras': {
    topic: 'marks',
    say: (cameras: number, editions: string) => `${countOf(cameras, 'camera')}, held to ${editions}`,
  },
  'site-nothing-promised': { topic: 'marks', say: 'No grade was promised' },
  'site-not-current': {
    topic: 'marks',
    say: (walks: number) => `${countOf(walks, 'walk')} without current results`,
  },
  'site-shared': {
    topic: 'marks',
    say: (isCertain: boolean) => `Pictures of one walk ${isCertain ? 'stand' : 'may stand'} in another`,
  },
  'site-scenes': { topic: 'marks', say: 'Walks of two cameras show one scene' },
  'nothing-measured': { topic: 'marks', say: 'No still could be measured' },
  verdicts: {
    topic: 'marks',
    means:
      'a promise whose stills have enough pixels but show nothing (washed out, lost in noise) is met by neither rule',
    say: (of: {
      readonly rule: 'pixels' | 'detail'
      readonly grading: string
      readonly promised: number
      readonly met: number
      readonly notMet: number
      readonly notShown: number
      readonly unusable: number
    }) =>
      `${of.rule === 'detail' ? 'With detail, by our stricter rule' : `By the pixel count of ${of.grading}`}: ` +
      `${of.met} of ${of.promised} ${of.promised === 1 ? 'promise' : 'promises'} met` +
      (of.notMet > 0 ? `, ${of.notMet} not met` : '') +
      (of.unusable > 0 ? `, ${of.unusable} with enough pixels but unusable` : '') +
      (of.notShown > 0 ? `, ${of.notShown} not shown` : ''),
  },
  'two-rules': {
    topic: 'marks',
    means:
      'a picture that is soft, noisy or blown up has pixels that show no detail. By pixels they count all the same, as in the table of the standard',
    say: 'With detail, only pixels that show detail count. Fewer mm is finer. Not shown: proved neither way',
  },
  'one-rule': {
    topic: 'marks',
    say: 'Not shown: proved neither way',
  },
  'edition-withdrawn': {
    topic: 'marks',
    say: (name: string, day: string, other: string, levels: string) =>
      `${name} was withdrawn on ${day}. In ${other}, in force, ${levels}`,
  },
  'edition-before': {
    topic: 'marks',
    say: (name: string, day: string, levels: string) => `In ${name}, withdrawn on ${day}, ${levels}`,
  },

  'do-not-compare': { topic: 'compare', say: 'The two walks do not compare' },
  'camera-changed': { topic: 'compare', say: 'The camera has changed' },
  'reference-changed': {
    topic: 'compare',
    say: 'A reference has changed, or how it was clicked. Nothing shows that the camera has',
  },
  'nothing-changed': {
    topic: 'compare',
    say: (marks: number) =>
      `Nothing has changed beyond the uncertainty on ${marks} shared ${marks === 1 ? 'mark' : 'marks'}`,
  },
  'same-verdicts': { topic: 'compare', say: 'every promise comes to the same verdict' },
  'other-verdicts': {
    topic: 'compare',
    say: (others: number, shared: number, worse: number) =>
      `${others} of ${shared} promises ${others === 1 ? 'comes' : 'come'} to another verdict, ${worse} for the worse`,
  },

  'no-lens-correction': {
    topic: 'lens',
    say: 'No lens correction: the lens is not known well enough, so every uncertainty includes the largest distortion it could have',
  },
  'read-through-lens': {
    topic: 'lens',
    say: (
      p: string,
      source: { readonly stills: number; readonly isWalk: boolean },
      perLight: string,
      leftOut: string | null,
    ) =>
      `Corners were read through the lens. It was ${
        source.isWalk
          ? `measured from ${source.stills} stills of this walk`
          : `taken from the data sheet’s fields of view, with which the ${source.stills} stills of this walk agree`
      }. Projection p ${p}, where 1 draws straight lines straight and 0 spreads angles evenly. Px per radian in the middle of the picture: ${perLight}.${
        leftOut === null ? '' : ` One mark’s distance does not fit and was left out (${leftOut}).`
      } Every uncertainty includes what is still unknown about the lens`,
  },
  'tape-does-not-fit': {
    topic: 'lens',
    say: (mark: string, fits: string) => `${mark} mark fits ${fits}; left out`,
  },
  'export-size': {
    topic: 'lens',
    say: (promised: string | null, measured: readonly string[]) =>
      measured.length === 0
        ? `Export size promised: ${promised}. None measured`
        : `Export size promised: ${promised ?? 'not stated'}. Measured: ${measured.join('; ')}`,
  },
  'plan-lens': {
    topic: 'lens',
    say: (lens: string) => `The data sheet is ${lens}. It is a claim; the walk measures`,
  },
  'plan-no-lens': {
    topic: 'lens',
    say: (why: string) => `${why}. Nothing can be predicted, so the marks must show it`,
  },

  'masked-plates': {
    topic: 'files',
    say: 'The pictures are masked: plates, boards and charts are blurred. This changes nothing that was measured',
  },
  'masked-people': {
    topic: 'files',
    say: 'The pictures are masked: everything but plates, boards and charts is blurred. This changes nothing that was measured',
  },
  'masked-all': {
    topic: 'files',
    say: 'The pictures are masked: they are blurred as a whole. This changes nothing that was measured',
  },
  'sheet-was-masked': {
    topic: 'files',
    means:
      'the sheet that is there hides what the new one shows; "sheet:" in walk.yaml keeps how a sheet is masked',
    say: ({ plates, people }: { readonly plates: boolean; readonly people: boolean }) =>
      `the sheet that was there is masked, this one shows ${plates ? (people ? 'all of its pictures' : 'plates, boards and charts') : 'all but plates, boards and charts'}`,
  },
  'left-out': { ...VERIFY, say: 'was left out when the sheet was written' },
  'nothing-to-judge': {
    ...VERIFY,
    say: 'was left out when the sheet was written, so what is printed cannot be compared with it',
  },
  'still-changed': { topic: 'stills', say: 'the still has changed since it was measured' },
  'logo-unreadable': {
    topic: 'walk',
    say: 'the logo is not a picture that can be read',
    mend: 'give a PNG or JPEG file',
  },
  'no-logo': {
    topic: 'walk',
    say: (logo: string, why: string) => `"${logo}": ${why}`,
    mend: 'put the picture there or delete the line',
  },

  'not-a-pdf': {
    ...VERIFY,
    say: (why: string) => `cannot be read as a PDF (${why})`,
    mend: 'name a sheet that "proofwalk sheet" wrote',
  },
  'seal-holds': { ...VERIFY, say: 'every byte is as it was written, by its own hash' },
  'seal-broken': { ...VERIFY, say: 'has changed since it was written, by its own hash' },
  'no-seal': {
    ...VERIFY,
    say: 'has no hash of its own: it is not our sheet, or it is from an older version',
  },
  'signed-by': {
    ...VERIFY,
    say: (subject: string, issuer: string, isOwnIssuer: boolean) =>
      `signed by ${subject}, and nothing has changed since. ${isOwnIssuer ? 'The signer made the certificate, so ask for its fingerprint' : `The certificate is from ${issuer}, which was not asked`}`,
  },
  'signed-and-changed': {
    ...VERIFY,
    say: (subject: string) => `signed by ${subject}, and changed since`,
  },
  'signature-unreadable': { ...VERIFY, say: 'carries a signature that cannot be read' },
  'key-unusable': {
    ...VERIFY,
    means: 'the file is not a PKCS#12 with an RSA key and its certificate, or its passphrase is another',
    say: (why: string) => `cannot be signed with (${oneLine(why)})`,
    mend: 'name a PKCS#12 file (.p12, .pfx) with an RSA key, with its passphrase in PROOFWALK_PASSPHRASE or --passphrase-file',
  },
  'no-results-attached': { ...VERIFY, say: 'is not attached to the sheet as our own results.json' },
  'results-of-another-release': { ...VERIFY, say: 'cannot be read as results of this release' },
  'none-to-attach': { ...VERIFY, say: 'none was used, and none is attached' },
  'not-attached': { ...VERIFY, say: 'was used for measuring and is not attached' },
  attached: { ...VERIFY, say: 'attached, and the same as used for measuring' },
  'another-attached': { ...VERIFY, say: 'the one attached is not the one used for measuring' },
  'picks-unreadable': { ...VERIFY, say: 'cannot be read' },
  'picked-on-another': { ...VERIFY, say: 'its corners belong to another still than the one measured' },
  'figures-printed': {
    ...VERIFY,
    say: (count: number) => `${count} printed figures agree with the attached results`,
  },
  'not-judged-again': { ...VERIFY, say: (why: string) => `cannot be judged again: ${why}` },
  'figure-not-printed': { ...VERIFY, say: 'is not printed as in the attached results' },
})
