import { promisedName } from '../../grade/gradings/grading.js'
import type { Verdict } from '../../grade/judgement.js'
import { figuresFor } from '../../units/figures.js'
import { countStills } from '../../walk/schemas/resultsSchema.js'
import { sharedWords } from '../../walk/site/sharedPictures.js'
import { sharedSceneWords } from '../../walk/site/sharedScenes.js'
import { dateOfSite } from '../../walk/site/siteWalk.js'
import { countOf, type SitePromise, type SiteSummary } from '../../walk/site/siteSummary.js'
import { drawBlock, drawList, drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import { asSentence, withMend } from '../../sentences.js'
import { siteDensities, siteSentences, standingByPixels } from './siteWords.js'
import { SHEET_CAUTIONS } from '../document/cautions.js'
import { beginPages, type Pen } from '../document/pen.js'
import { collectBytes, openDocument, walkDate } from '../document/openDocument.js'
import { drawTable } from '../tables/dataTable.js'
import { drawRule } from '../document/drawRule.js'
import { pageFrame } from '../document/pageFrame.js'
import { drawRunningHeads } from '../document/runningHeads.js'
import type { PaperName } from '../input/sheetInput.js'
import { drawSignatures, SIGNATURES_PT } from '../document/signatures.js'
import type { Column, TableRow } from '../tables/tableColumns.js'
import { within } from '../document/tagged.js'
import {
  BODY,
  INK,
  LEAD,
  LEAD_STRONG,
  LINE_PT,
  SMALL,
  SMALL_GREY,
  SMALL_STRONG,
  TINY_GREY,
  TITLE,
} from '../document/typography.js'

/**
 * A site as the bytes of one PDF: every promise of every camera, the worst first, every walk with its hash, and one place to sign. Set and tagged like the sheet; the
 * same results give the same bytes, no clock is read.
 */
export async function summaryPdf(summary: SiteSummary, paper: PaperName): Promise<Uint8Array> {
  const { walks } = summary
  const site = siteName(summary)
  const simulated = walks.some(({ walk }) => walk.simulated)
  const dates = [...new Set(walks.flatMap((one) => dateOfSite(one) ?? []))].sort()
  const frame = pageFrame(paper)
  const doc = openDocument(frame, {
    title: `${site}: summary of ${walks.length} cameras${simulated ? ' (simulated)' : ''}`,
    subject: siteSentences(summary).join(' '),
    author: same(walks.map(({ walk }) => walk.issuer.name ?? walk.people.measuredBy)),
    date: walkDate(dates.at(-1) ?? null),
  })
  const bytes = collectBytes(doc)
  const { root, pen } = beginPages(doc, frame)
  within(pen, 'Sect', () => {
    drawHead(pen, summary, site)
    drawPromises(pen, summary)
  })
  within(pen, 'Sect', () => drawWalks(pen, summary))
  within(pen, 'Sect', () => {
    drawSectionHead(pen, 'What this summary does not say', 110 + SIGNATURES_PT)
    // The last is about pictures, and there are none here.
    drawList(pen, SHEET_CAUTIONS.slice(0, -1), BODY)
    drawParagraph(pen, ONE_SIGNATURE, BODY)
    drawSignatures(pen, {
      facts: {
        issuer: same(walks.map(({ walk }) => walk.issuer.name)),
        walkedBy: same(walks.map(({ walk }) => walk.people.walkedBy)),
        client: same(walks.map(({ walk }) => walk.people.client)),
      },
    })
  })
  root.end()
  const date = dates.length > 1 ? `${dates[0]} to ${dates.at(-1)}` : (dates[0] ?? null)
  const camera = `${walks.length} ${walks.length === 1 ? 'camera' : 'cameras'}`
  drawRunningHeads(doc, frame, { facts: { site, camera, date }, simulated, kind: 'Site summary' })
  doc.end()
  return bytes
}

/** Forty sheets need not be signed one by one. */
const ONE_SIGNATURE =
  'One signature of each side stands for every camera above. The hash beside a camera names the results that are signed for.'

/** The site the walks name, where they name one; else how many they name. */
function siteName({ walks }: SiteSummary): string {
  const names = [...new Set(walks.map(({ walk }) => walk.site))]
  return names.length > 3 ? `${names.length} sites` : names.join(' · ')
}

/** A camera by its id and name. */
function cameraText({ camera }: SiteSummary['walks'][number]['walk']): string {
  return [camera.id, camera.name].filter((part) => part !== null).join(' ')
}

/** What all say alike; null where one says otherwise, or nothing. */
function same(said: readonly (string | null)[]): string | null {
  return said.every((one) => one === said[0]) ? (said[0] ?? null) : null
}

function drawHead(pen: Pen, summary: SiteSummary, site: string): void {
  const { frame } = pen
  pen.y -= 3
  drawBlock(pen, 'H1', site, TITLE, { mostLines: 4 })
  drawBlock(pen, 'P', 'Summary of all cameras and what was promised of them', LEAD, { gapPt: 6 })
  drawRule(pen, pen.y, LINE_PT.rule, frame.left, frame.right, INK)
  pen.y += 7
  for (const sentence of siteSentences(summary))
    drawBlock(pen, 'P', sentence, LEAD_STRONG, { mostLines: 4, gapPt: 4 })
}

const GROUPS: readonly (readonly [Verdict, string])[] = [
  ['not met', 'Not met'],
  ['not shown', 'Not shown'],
  ['met', 'Met'],
]

function drawPromises(pen: Pen, summary: SiteSummary): void {
  if (summary.notCurrent.length > 0) {
    drawSubhead(pen, 'Walks without current results: nothing of them stands below', 30)
    drawList(
      pen,
      summary.notCurrent.map(({ walk, why }) => `${cameraText(walk)}: ${why}`),
      SMALL,
    )
  }
  if (summary.shared.length > 0) {
    drawSubhead(pen, 'One picture in two walks', 30)
    drawList(pen, summary.shared.map(sharedWords), SMALL)
  }
  if (summary.scenes.length > 0) {
    drawSubhead(pen, 'One scene under two cameras', 30)
    drawList(pen, summary.scenes.map(sharedSceneWords), SMALL)
  }
  if (summary.promises.length === 0) return
  drawSubhead(pen, 'Every promise, the worst first', 60)
  const densities = siteDensities(summary)
  const columns: Column[] = [
    { head: 'Verdict', share: 38, style: SMALL_STRONG },
    { head: 'Camera', share: 92 },
    { head: 'Promised grade', share: 84 },
    { head: 'Light, reference', share: 80 },
    { head: densities.head, share: 34, align: 'right' },
    { head: '95 % interval', share: 62, align: 'right', style: SMALL_GREY },
    { head: 'Limit', share: 40, align: 'right' },
    { head: 'By pixels', share: 34, style: TINY_GREY },
  ]
  const rows = GROUPS.flatMap(([verdict, title]): TableRow[] => {
    const those = summary.promises.filter(({ promise }) => promise.verdict === verdict)
    const group = { group: `${title} (${countOf(summary, verdict)})`, cells: [] }
    return those.length === 0
      ? []
      : [group, ...those.map((one) => promiseRow(one, densities.cells(one, '–')))]
  })
  drawTable(pen, columns, rows)
}

function promiseRow(one: SitePromise, densities: readonly string[]): TableRow {
  const { site, promise } = one
  const { walk } = site
  return {
    cells: [
      promise.verdict,
      cameraText(walk),
      `${promisedName(promise, walk.grading)} at ${figuresFor(walk.units).distance(promise.distance)}`,
      `${promise.light}, ${promise.reference ?? 'every reference'}`,
      ...densities,
      promise.basis === 'detail' ? standingByPixels(one) : 'judged so',
    ],
    ...(promise.verdict === 'met' ? {} : { note: asSentence(withMend(promise.why, promise.mend)) }),
  }
}

function drawWalks(pen: Pen, { walks }: SiteSummary): void {
  drawSectionHead(pen, 'Every camera', 60)
  drawTable(
    pen,
    [
      { head: 'Camera', share: 110 },
      { head: 'Serial', share: 60 },
      { head: 'Walk of', share: 50 },
      { head: 'Stills', share: 26, align: 'right' },
      { head: 'Promises met', share: 46, align: 'right' },
      { head: 'SHA-256 of its results.json', share: 190, style: TINY_GREY },
    ],
    walks.map((one) => {
      const { walk, results, resultsSha256, why } = one
      return {
        cells: [
          cameraText(walk),
          walk.camera.serial ?? '–',
          dateOfSite(one) ?? '–',
          results === null ? '–' : String(countStills(results.stills)),
          results === null ? '–' : metOf(results.promises),
          results === null ? `no current results: ${why}` : resultsSha256,
        ],
      }
    }),
  )
}

function metOf(promises: readonly { readonly verdict: Verdict }[]): string {
  if (promises.length === 0) return 'none made'
  return `${promises.filter(({ verdict }) => verdict === 'met').length} of ${promises.length}`
}
