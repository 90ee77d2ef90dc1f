// What `riskCurves` prints, drawn: truth over limit against the share of each verdict, one panel a class and number of marks.

const [WIDE, HIGH, GAP, LEFT, TOP] = [210, 120, 34, 56, 46]
const DASHES = { met: '', 'not shown': '2 3', 'not met': '8 4' }

/** The curves in a printed table as an SVG picture; `heading`: what made them, as its description. */
export function riskPlot(printed, heading) {
  const panels = panelsIn(printed)
  const rows = [...new Set(panels.map(({ walkClass }) => walkClass))]
  const columns = [...new Set(panels.map(({ marks }) => marks))]
  const drawn = panels.map((panel) =>
    drawnPanel(panel, columns.indexOf(panel.marks), rows.indexOf(panel.walkClass)),
  )
  const [width, height] = [LEFT + columns.length * (WIDE + GAP), TOP + rows.length * (HIGH + 2 * GAP)]
  const legend = Object.entries(DASHES).map(
    ([verdict, dash], at) =>
      `${line(`M${LEFT + 130 * at} 14h36`, dash)}${text(LEFT + 42 + 130 * at, 18, verdict, 'start')}`,
  )
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="10">
<desc>${heading}</desc>
<rect width="100%" height="100%" fill="#fff"/>
${[...legend, ...drawn].join('\n')}
${text(width - GAP, 18, 'share of promises in % against truth / limit; dotted rules: 4 %', 'end')}
</svg>
`
}

function panelsIn(printed) {
  const panels = []
  for (const row of printed.split('\n')) {
    const title = /^(.+), (\d+ marks): (U +[\d.]+ %)/.exec(row)
    if (title)
      panels.push({
        walkClass: title[1],
        marks: title[2],
        title: `${title[1]}, ${title[2]}: ${title[3]}`,
        curves: {},
      })
    const curve = /^ {2}(truth \/ limit|met|not shown|not met)(?:, %)? +(.+)$/.exec(row)
    if (curve) panels.at(-1).curves[curve[1]] = curve[2].trim().split(/ +/).map(Number)
  }
  return panels
}

/** The ratios stand at even steps: most of them lie within 2 % of 1. */
function drawnPanel({ title, curves }, column, row) {
  const [x0, y0] = [LEFT + column * (WIDE + GAP), TOP + row * (HIGH + 2 * GAP)]
  const ratios = curves['truth / limit']
  const x = (at) => (x0 + (at / (ratios.length - 1)) * WIDE).toFixed(1)
  const y = (percent) => (y0 + HIGH * (1 - percent / 100)).toFixed(1)
  return [
    `<rect x="${x0}" y="${y0}" width="${WIDE}" height="${HIGH}" fill="none" stroke="#999"/>`,
    text(x0, y0 - 6, title, 'start'),
    ...ratios.map((ratio, at) => text(x(at), y0 + HIGH + (at % 2 === 0 ? 12 : 23), ratio, 'middle')),
    ...[0, 50, 100].map((percent) => text(x0 - 4, Number(y(percent)) + 3, percent, 'end')),
    `<path d="M${x0} ${y(4)}h${WIDE}" stroke="#999" stroke-dasharray="1 2"/>`,
    ...Object.entries(DASHES).map(([verdict, dash]) =>
      line(`M${curves[verdict].map((share, at) => `${x(at)} ${y(share)}`).join('L')}`, dash),
    ),
  ].join('\n')
}

function line(d, dash) {
  return `<path d="${d}" fill="none" stroke="#000" stroke-width="1.4" stroke-dasharray="${dash}"/>`
}

function text(x, y, said, anchor) {
  return `<text x="${x}" y="${y}" text-anchor="${anchor}">${said}</text>`
}
