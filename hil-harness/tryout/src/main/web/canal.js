/*
 * One drawing of a canal in section, to scale. The page to try by hand and the live console use this same file.
 *
 *   const picture = drawCanal(element, scene)   puts the picture into element
 *   picture.update(frame)                       shows a frame
 *   picture.micronsPerPixel(clientX)            scale under a place, for a page that lets people drag
 *   picture.destroy()                           takes the picture away
 *
 * Distances are µm from the foramen along the canal, positive short of it, negative past it.
 * scene: canalUm, bore [[depth below the orifice, diameter], …], constrictionUm or null, chamberUm (height),
 *   chamberDiameterUm, file {tipDiameterUm, taper, cuttingUm}, standoffUm, toleranceUm, simulated.
 * frame: tMs, trueUm or null, readingUm or null, boundUm or null, trust, cause, state, drive, speedRpm,
 *   fluidUm or null (surface above the orifice), leakShare or null (share of the current around the canal).
 *
 * Colours and type are those of look.css, which the page must have.
 * Bore, chamber, file, fluid and all distances are to scale. The outline of tooth and gum is for orientation.
 * Truth and reading have a mark, a colour and a column of their own; they are never mixed.
 */

const SVG = 'http://www.w3.org/2000/svg'

/* What the drawing assumes for looks alone, mm. */
const WALL = 1.5
const GUM_BELOW_ORIFICE = 1.2
const FLUTE_PITCH = 1.1
const SEEN_ABOVE_CHAMBER = 3.5
const SEEN_BELOW_FORAMEN = 2.2
const INSET_TOP = 3
const INSET_BOTTOM = -1

/* Lines that carry all of the current are so wide together, pixels. */
const ALL_CURRENT = 16
/* Fluid that stands so near to the edge of the chamber runs over, µm. */
const AT_THE_EDGE_UM = 20
/* A smaller share than this is not drawn. */
const LEAST_SHARE = 0.005
/* A screen reader hears a new description at most this often, ms. */
const DESCRIBE_EVERY_MS = 1000

const STYLE = `
.canal-picture { --c-tissue: color-mix(in srgb, var(--vermillion-wash) 50%, var(--paper));
  --c-gum: color-mix(in srgb, var(--vermillion) 45%, var(--paper)); --c-edge: color-mix(in srgb, var(--dentine) 45%, var(--ink));
  --c-metal-edge: color-mix(in srgb, var(--steel) 50%, var(--ink));
  display: block; width: 100%; font: 12px/1.2 var(--sans); }
.canal-picture text { fill: var(--ink); font-variant-numeric: tabular-nums; paint-order: stroke;
  stroke: var(--paper); stroke-width: 3px; stroke-linejoin: round; }
.canal-picture .c-quiet { fill: var(--soft); }
.canal-picture .c-strong { font-weight: 650; }
.canal-picture .c-paper { fill: var(--paper); }
.canal-picture .c-tooth { fill: var(--dentine); stroke: var(--c-edge); stroke-width: 1; }
.canal-picture .c-hollow { fill: var(--paper); stroke: var(--c-edge); stroke-width: 1; }
.canal-picture .c-tissue { fill: var(--c-tissue); }
.canal-picture .c-gum { fill: none; stroke: var(--c-gum); stroke-width: 2; }
.canal-picture .c-fluid { fill: var(--fluid); }
.canal-picture .c-surface { stroke: var(--sky-ink); stroke-width: 2; fill: none; }
.canal-picture .c-spill { fill: none; stroke: var(--fluid); stroke-width: 5; stroke-linecap: round; stroke-linejoin: round; }
.canal-picture .c-file { fill: var(--steel); stroke: var(--c-metal-edge); stroke-width: 1; }
.canal-picture .c-flute { stroke: var(--c-metal-edge); stroke-width: 1; fill: none; }
.canal-picture .c-unknown .c-file { fill: none; stroke-dasharray: 4 3; }
.canal-picture .c-frame { fill: none; stroke: var(--soft); stroke-width: 1; }
.canal-picture .c-lens { fill: none; stroke: var(--soft); stroke-width: 1; stroke-dasharray: 3 3; }
.canal-picture .c-rule { stroke: var(--soft); stroke-width: 1; fill: none; }
.canal-picture .c-foramen { stroke: var(--ink); stroke-width: 1.5; stroke-dasharray: 7 4; }
.canal-picture .c-standoff { stroke: var(--ink); stroke-width: 1.8; }
.canal-picture .c-tolerance { fill: var(--ink); fill-opacity: .13; }
.canal-picture .c-truth { fill: var(--truth); stroke: var(--paper); stroke-width: 1; }
.canal-picture .c-truth-line { stroke: var(--truth); stroke-width: 2; }
.canal-picture text.c-truth-text { fill: var(--blue-ink); }
.canal-picture .c-reading { fill: var(--paper); stroke: var(--reading); stroke-width: 2.5; }
.canal-picture text.c-reading-text { fill: var(--vermillion-ink); }
.canal-picture .c-band { stroke: var(--reading); stroke-width: 1.5; stroke-dasharray: 5 3; }
.canal-picture .c-hatch { stroke: var(--reading); stroke-width: 1; }
.canal-picture .c-through, .canal-picture .c-around { fill: none; stroke-linecap: round; stroke-opacity: .85;
  stroke-dasharray: 7 9; animation: canal-flow 1s linear infinite; }
.canal-picture .c-through { stroke: var(--green-ink); }
.canal-picture .c-around { stroke: var(--leak); stroke-dasharray: 1 9; }
.canal-picture text.c-through-text { fill: var(--green-ink); }
.canal-picture text.c-around-text { fill: var(--orange-ink); }
@keyframes canal-flow { to { stroke-dashoffset: -160; } }
@media (prefers-reduced-motion: reduce) { .canal-picture .c-through, .canal-picture .c-around { animation: none; } }
`

/* A reader who wants no motion sees the speed in words alone. */
const still = matchMedia('(prefers-reduced-motion: reduce)')

let styled = false

function addStyle() {
  if (!styled) {
    const sheet = new CSSStyleSheet()
    sheet.replaceSync(STYLE)
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
    styled = true
  }
}

function put(parent, name, attributes, text) {
  const node = document.createElementNS(SVG, name)
  for (const [key, value] of Object.entries(attributes)) {
    node.setAttribute(key, value)
  }
  if (text !== undefined) {
    node.textContent = text
  }
  parent.append(node)
  return node
}

function set(node, attributes) {
  for (const [key, value] of Object.entries(attributes)) {
    node.setAttribute(key, value)
  }
}

function show(node, shown) {
  node.toggleAttribute('hidden', !shown)
}

/** Sets a text, and touches the page only when it differs. */
export function say(node, text) {
  if (node.textContent !== text) {
    node.textContent = text
  }
}

/** Whether a value of a frame is there. */
export const isNumber = (value) => typeof value === 'number' && Number.isFinite(value)
const clamp = (value, low, high) => Math.min(high, Math.max(low, value))
const px = (value) => Math.round(value * 100) / 100

/** A distance for people: "1.24 mm", "0.30 mm past". */
export function millimetres(microns) {
  const mm = Math.abs(microns / 1000).toFixed(2)
  return microns < -4 ? `${mm} mm past` : `${mm} mm`
}

/** The same in short, as on the ruler: "1.24", "−0.30" past the foramen. */
const signed = (microns) => `${microns < -4 ? '−' : ''}${Math.abs(microns / 1000).toFixed(2)}`

/** Sizes of a scene in mm, with the radius of the bore over the height above the foramen. */
function shapeOf(scene) {
  const length = scene.canalUm / 1000
  const bore = scene.bore.map(([depth, diameter]) => [length - depth / 1000, diameter / 2000])
  const radius = (z) => {
    let above = bore[0]
    for (const point of bore) {
      if (point[0] <= z) {
        const tall = above[0] - point[0]
        return tall > 0 && z < above[0] ? point[1] + ((above[1] - point[1]) * (z - point[0])) / tall : point[1]
      }
      above = point
    }
    return above[1]
  }
  const file = scene.file
  const tip = file.tipDiameterUm / 2000
  const cutting = file.cuttingUm / 1000
  return {
    length, bore, radius,
    chamber: scene.chamberUm / 1000,
    chamberRadius: Math.max(scene.chamberDiameterUm / 2000, bore[0][1]),
    tip, cutting,
    shaft: tip + (file.taper / 2) * cutting,
    fileRadius: (above) => tip + (file.taper / 2) * clamp(above, 0, cutting),
    standoff: scene.standoffUm / 1000,
    tolerance: scene.toleranceUm / 1000,
    constriction: isNumber(scene.constrictionUm) ? scene.constrictionUm / 1000 : null,
    edge: length + scene.chamberUm / 1000,
    gum: length - GUM_BELOW_ORIFICE
  }
}

/** Half width of the tooth's outline at its widest, mm. */
const widest = (shape) => shape.chamberRadius + 2

/** Paths of one view. X and y turn mm from the axis and mm above the foramen into pixels. */
function pathsOf(shape, x, y) {
  const at = (r, z) => `${px(x(r))} ${px(y(z))}`
  const side = (points, sign) => points.map(([z, r]) => at(sign * r, z))
  const wall = [[shape.edge, shape.chamberRadius], [shape.length, shape.chamberRadius], ...shape.bore]
  const hollow = `M${[...side(wall, -1), ...side(wall, 1).reverse()].join('L')}Z`
  const foramen = shape.radius(0)
  const root = (z) => shape.radius(z) + WALL * (0.7 + 0.3 * (z / shape.length))
  const low = Math.min(3.5, shape.length * 0.3)
  const neck = shape.length - 1.5
  const out = widest(shape)
  const half = (s) =>
    `L${at(s * (foramen + 0.12), 0)}` +
    `C${at(s * (foramen + 0.75), 0.05)} ${at(s * root(low) * 0.85, low * 0.4)} ${at(s * root(low), low)}` +
    `L${at(s * root(neck), neck)}` +
    `C${at(s * (root(neck) + 0.3), neck + 1.2)} ${at(s * out, shape.length + 0.3)} ` +
    `${at(s * out, shape.length + shape.chamber * 0.55)}` +
    `C${at(s * out, shape.edge - 0.1)} ${at(s * (out - 0.6), shape.edge + 0.15)} ${at(s * shape.chamberRadius, shape.edge)}`
  const outline = [1, -1].map((s) => `M${at(0, 0)}L${at(s * foramen, 0)}${half(s)}L${at(0, shape.edge)}Z`).join('')
  const spill = [-1, 1]
    .map((s) =>
      `M${at(s * (shape.chamberRadius - 0.1), shape.edge)}` +
      `C${at(s * (out - 0.5), shape.edge + 0.2)} ${at(s * (out + 0.1), shape.edge - 0.1)} ` +
      `${at(s * (out + 0.1), shape.length + shape.chamber * 0.5)}` +
      `C${at(s * (out + 0.1), shape.length + 0.2)} ${at(s * (root(neck) + 0.4), neck + 1)} ${at(s * (root(neck) + 0.3), shape.gum)}`)
    .join('')
  return { hollow, outline, spill, out, at, root }
}

let clips = 0

/** The tooth, its fluid, its file and the current in one window of the picture. */
function section(svg, shape, view, detailed) {
  const x = (r) => view.axis + r * view.scale
  const y = (z) => view.foramen - z * view.scale
  const name = `canal-${++clips}`
  const defs = put(svg, 'defs', {})
  const window = { x: view.left, y: view.top, width: view.right - view.left, height: view.bottom - view.top }
  put(put(defs, 'clipPath', { id: `${name}-w` }), 'rect', window)
  const paths = pathsOf(shape, x, y)
  put(put(defs, 'clipPath', { id: `${name}-h` }), 'path', { d: paths.hollow })
  const root = put(svg, 'g', { 'clip-path': `url(#${name}-w)` })

  put(root, 'rect', { ...window, class: 'c-paper' })
  const gum = y(shape.gum)
  const dip = 0.35 * view.scale
  const gumLine = `M${view.left} ${gum - dip}Q${view.axis - 3 * view.scale} ${gum - dip} ${view.axis} ${gum + dip}` +
    `Q${view.axis + 3 * view.scale} ${gum - dip} ${view.right} ${gum - dip}`
  put(root, 'path', { d: `${gumLine}V${view.bottom}H${view.left}Z`, class: 'c-tissue' })
  put(root, 'path', { d: gumLine, class: 'c-gum' })
  const spill = put(root, 'path', { d: paths.spill, class: 'c-spill' })
  put(root, 'path', { d: paths.outline, class: 'c-tooth' })
  put(root, 'path', { d: paths.hollow, class: 'c-hollow' })
  const wet = put(root, 'g', { 'clip-path': `url(#${name}-h)` })
  const fluid = put(wet, 'rect', { x: view.left, width: window.width, y: 0, height: 0, class: 'c-fluid' })
  const surface = put(wet, 'path', { class: 'c-surface' })

  const through = [-1, 0, 1].map((way) => put(root, 'path', { class: 'c-through', 'data-way': way }))
  const around = [-1, 1].map((way) => put(root, 'path', { class: 'c-around', 'data-way': way }))

  /* The file has its tip at the origin of its group. */
  const file = put(root, 'g', {})
  const s = view.scale
  const up = (view.bottom - view.top) * 2 + shape.cutting * s
  const blunt = Math.min(shape.tip, 0.05) * s
  const outline = `M${px(-shape.tip * s)} ${px(-blunt)}L${px(-shape.shaft * s)} ${px(-shape.cutting * s)}V${-up}` +
    `H${px(shape.shaft * s)}V${px(-shape.cutting * s)}L${px(shape.tip * s)} ${px(-blunt)}` +
    `Q0 ${px(blunt)} ${px(-shape.tip * s)} ${px(-blunt)}Z`
  put(put(defs, 'clipPath', { id: `${name}-f` }), 'path', {
    d: `M${px(-shape.tip * s)} 0L${px(-shape.shaft * s)} ${px(-shape.cutting * s)}H${px(shape.shaft * s)}L${px(shape.tip * s)} 0Z`
  })
  put(file, 'path', { d: outline, class: 'c-file' })
  const pitch = FLUTE_PITCH * s
  const twist = put(put(file, 'g', { 'clip-path': `url(#${name}-f)` }), 'g', {})
  let flutes = ''
  for (let rise = 2 * pitch; rise > -shape.cutting * s - 2 * pitch; rise -= pitch / 2) {
    flutes += `M${px(-shape.shaft * s)} ${px(rise)}L${px(shape.shaft * s)} ${px(rise - pitch * 0.45)}`
  }
  put(twist, 'path', { d: flutes, class: 'c-flute' })

  const flowThrough = (tip) => {
    const from = Math.max(tip, -0.05)
    const reach = detailed ? 0.75 : 1.5
    through.forEach((path) => {
      const way = Number(path.dataset.way)
      const narrow = way * Math.min(shape.tip, shape.radius(0)) * 0.5
      set(path, { d: `M${paths.at(narrow, from)}L${paths.at(narrow, Math.min(0, from))}` +
        `Q${paths.at(narrow + way * 0.15, -reach * 0.5)} ${paths.at(way * reach, -reach)}` })
    })
  }
  const flowAround = (level, tip) => {
    const rises = clamp(level, 0, shape.edge)
    const start = Math.max(rises, tip)
    around.forEach((path) => {
      const way = Number(path.dataset.way)
      const out = paths.out + 0.45
      set(path, { d: `M${paths.at(way * shape.fileRadius(start - tip), rises)}` +
        `L${paths.at(way * out, Math.max(rises, shape.length + 0.2))}` +
        `Q${paths.at(way * (out + 0.4), shape.length)} ${paths.at(way * (out - 0.3), shape.gum - 0.8)}` })
    })
  }

  let angle = 0
  let lastMs = null
  return {
    node: root, x, y,
    update(frame) {
      const known = isNumber(frame.trueUm)
      const place = known ? frame.trueUm : frame.readingUm
      show(file, isNumber(place))
      file.classList.toggle('c-unknown', !known)
      const tip = isNumber(place) ? place / 1000 : shape.edge + 2
      set(file, { transform: `translate(${px(view.axis)} ${px(y(tip))})` })
      if (lastMs !== null && frame.tMs > lastMs) {
        angle += ((frame.tMs - lastMs) / 60000) * (frame.speedRpm || 0)
      }
      lastMs = frame.tMs
      if (!still.matches) {
        set(twist, { transform: `translate(0 ${px(-(angle - Math.floor(angle)) * pitch)})` })
      }

      const level = isNumber(frame.fluidUm) ? shape.length + frame.fluidUm / 1000 : null
      const isWet = level !== null && level > 0
      show(fluid, isWet)
      show(surface, isWet)
      if (isWet) {
        const top = y(Math.min(level, shape.edge))
        set(fluid, { y: px(top), height: px(Math.max(0, y(0) - top)) })
        set(surface, { d: `M${view.left} ${px(top)}H${view.right}` })
      }
      show(spill, level !== null && level >= shape.edge - AT_THE_EDGE_UM / 1000)

      const share = isNumber(frame.leakShare) ? clamp(frame.leakShare, 0, 1) : null
      const leaks = share !== null && share > LEAST_SHARE
      const passes = share !== null && 1 - share > LEAST_SHARE && known && (level === null || tip <= level)
      around.forEach((path) => show(path, leaks))
      through.forEach((path) => show(path, passes))
      if (leaks) {
        flowAround(level ?? shape.length, tip)
        around.forEach((path) => set(path, { 'stroke-width': px(Math.max(1, (share * ALL_CURRENT) / around.length)) }))
      }
      if (passes) {
        flowThrough(tip)
        through.forEach((path) => set(path, { 'stroke-width': px(Math.max(1, ((1 - share) * ALL_CURRENT) / through.length)) }))
      }
    }
  }
}

/** Draws the fixed parts and returns what shows a frame. */
function build(svg, scene, width) {
  svg.replaceChildren()
  const shape = shapeOf(scene)
  const narrow = width < 430
  const height = narrow ? 470 : clamp(width * 1.15, 470, 600)
  set(svg, { viewBox: `0 0 ${width} ${height}`, width, height })
  const split = Math.round(width * (narrow ? 0.43 : 0.47))
  const top = 36
  const bottom = height - 50

  /* The whole tooth. */
  const tall = shape.edge + SEEN_ABOVE_CHAMBER + SEEN_BELOW_FORAMEN
  const scale = Math.min((bottom - top) / tall, (split - 12) / (2 * widest(shape) + 1.4))
  const whole = {
    left: 0, right: split - 10, top, bottom, scale,
    axis: 8 + (widest(shape) + 0.6) * scale,
    foramen: bottom - SEEN_BELOW_FORAMEN * scale
  }
  const tooth = section(svg, shape, whole, false)
  const words = put(svg, 'g', {})
  put(words, 'text', { x: 0, y: 28, class: 'c-quiet' }, narrow ? 'tooth, to scale' : 'whole tooth, to scale')
  const note = (z, text, r) => {
    const line = tooth.y(z)
    const side = whole.right - (narrow ? 2 : 4)
    put(words, 'path', { d: `M${px(tooth.x(r))} ${px(line)}H${side - text.length * 6.8 - 2}`, class: 'c-rule' })
    put(words, 'text', { x: side, y: px(line + 4), 'text-anchor': 'end', class: 'c-quiet' }, text)
  }
  note(shape.length + shape.chamber * 0.75, 'chamber', shape.chamberRadius * 0.6)
  note(shape.length, 'orifice', shape.radius(shape.length))
  note(shape.length * 0.62, 'dentine', shape.radius(shape.length * 0.62) + 0.7)
  note(shape.length * 0.42, 'canal', 0)
  note(0, 'foramen', shape.radius(0))
  const bar = scale * 5
  put(words, 'path', { d: `M4 ${bottom - 9}v6h${px(bar)}v-6`, class: 'c-rule' })
  put(words, 'text', { x: px(bar + 9), y: bottom - 3, class: 'c-quiet' }, '5 mm')

  /* The last millimetres, larger. */
  const left = split
  const right = width - 1
  const large = (bottom - top) / (INSET_TOP - INSET_BOTTOM)
  const ruler = Math.round(left + (right - left) * (narrow ? 0.53 : 0.55))
  const inset = {
    left, right: ruler, top, bottom, scale: large,
    axis: (left + ruler) / 2 + 10,
    foramen: bottom + INSET_BOTTOM * large
  }
  const y = (z) => inset.foramen - z * large
  const lens = { x: whole.axis - ((ruler - left) / 2 / large) * scale, y: tooth.y(INSET_TOP) }
  const lensHeight = (INSET_TOP - INSET_BOTTOM) * scale
  const lensWidth = ((ruler - left) / large) * scale
  put(words, 'rect', { x: px(lens.x), y: px(lens.y), width: px(lensWidth), height: px(lensHeight), class: 'c-lens' })
  put(words, 'path', { d: `M${px(lens.x + lensWidth)} ${px(lens.y)}L${left} ${top}M${px(lens.x + lensWidth)} ` +
    `${px(lens.y + lensHeight)}L${left} ${bottom}`, class: 'c-lens' })
  put(svg, 'rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'c-paper' })
  const close = section(svg, shape, inset, true)

  const defs = put(svg, 'defs', {})
  const hatch = `canal-${++clips}-b`
  const pattern = put(defs, 'pattern', { id: hatch, width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' })
  put(pattern, 'path', { d: 'M0 0V7', class: 'c-hatch' })
  const over = put(svg, 'g', {})
  const tolerance = shape.tolerance > 0 && shape.tolerance < 5
  if (tolerance) {
    const high = Math.min(INSET_TOP, shape.standoff + shape.tolerance)
    const low = Math.max(INSET_BOTTOM, shape.standoff - shape.tolerance)
    put(over, 'rect', { x: left, width: right - left, y: px(y(high)), height: px(y(low) - y(high)), class: 'c-tolerance' })
    put(over, 'text', { x: right - 4, y: px(y(high) + 13), 'text-anchor': 'end', class: 'c-quiet' }, 'tolerance')
  }
  const band = put(over, 'rect', { x: left + 1, width: right - left - 2, class: 'c-band', fill: `url(#${hatch})`, 'fill-opacity': 0.45 })
  put(over, 'path', { d: `M${left} ${px(y(0))}H${right}`, class: 'c-foramen' })
  put(over, 'text', { x: left + 20, y: px(y(0) + 14) }, 'foramen')
  put(over, 'text', { x: left + 20, y: px(y(-0.75)), class: 'c-quiet' }, 'past the foramen')
  if (shape.constriction !== null && shape.constriction < INSET_TOP) {
    const z = shape.constriction
    const r = shape.radius(z)
    put(over, 'path', { d: `M${px(close.x(r))} ${px(y(z))}h${ruler - close.x(r) > 30 ? 14 : 8}M${px(close.x(-r))} ${px(y(z))}h-14`, class: 'c-rule' })
    put(over, 'text', { x: left + 20, y: px(y(z) + 15), class: 'c-quiet' }, 'constriction')
  }
  if (shape.standoff > 0) {
    put(over, 'path', { d: `M${left} ${px(y(shape.standoff))}H${right}`, class: 'c-standoff' })
    put(over, 'text', { x: left + 20, y: px(y(shape.standoff) - 5), class: 'c-strong' }, `standoff ${shape.standoff.toFixed(2)}`)
  }
  put(over, 'path', { d: `M${ruler} ${top}V${bottom}`, class: 'c-rule' })
  for (let half = INSET_TOP * 2; half >= INSET_BOTTOM * 2; half--) {
    const z = half / 2
    put(over, 'path', { d: `M${ruler} ${px(y(z))}h${half % 2 ? 4 : 8}`, class: 'c-rule' })
    if (half % 2 === 0) {
      const inside = clamp(y(z) + 4, top + 11, bottom - 3)
      put(over, 'text', { x: ruler + 11, y: px(inside), class: 'c-quiet' }, `${z < 0 ? '−' : ''}${Math.abs(z)}${z === INSET_TOP ? ' mm' : ''}`)
    }
  }
  put(over, 'rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'c-frame' })
  const times = (large / scale).toFixed(1)
  put(over, 'text', { x: left, y: height - 35, class: 'c-quiet' }, `last ${INSET_TOP} mm, ${times} times larger`)
  if (shape.standoff > 0) {
    put(over, 'text', { x: left, y: height - 20, class: 'c-quiet' }, 'standoff: set distance')
    put(over, 'text', { x: left, y: height - 5, class: 'c-quiet' }, 'short of the foramen')
  }
  if (scene.simulated) {
    put(over, 'text', { x: 0, y: height - 35, class: 'c-strong' }, 'Simulated')
  }

  /* Truth at the left, reading at the right; words on top, so that they do not run with the marks. */
  put(over, 'text', { x: left, y: 13, class: 'c-truth-text c-strong' }, '▶ true')
  const truthWord = put(over, 'text', { x: left, y: 28, class: 'c-truth-text c-strong' })
  const truthLine = put(over, 'path', { class: 'c-truth-line' })
  const truthMark = put(over, 'path', { class: 'c-truth' })
  const farTruth = put(svg, 'path', { class: 'c-truth' })
  const middle = (ruler + 24 + right) / 2
  const readingName = put(over, 'text', { x: right, y: 13, 'text-anchor': 'end', class: 'c-reading-text c-strong' })
  const readingMark = put(over, 'path', { class: 'c-reading' })
  const readingWord = put(over, 'text', { x: right, y: 28, 'text-anchor': 'end', class: 'c-reading-text c-strong' })
  const farBand = put(svg, 'rect', { class: 'c-band', fill: 'none' })
  const farReading = put(svg, 'path', { class: 'c-reading' })
  const throughWord = put(svg, 'text', { x: whole.axis, y: bottom - 22, 'text-anchor': 'middle', class: 'c-through-text' })
  const aroundWord = put(svg, 'text', { x: 2, y: px(tooth.y(shape.gum) + 30), class: 'c-around-text' })
  const spillWord = put(svg, 'text', { x: 2, y: px(tooth.y(shape.edge) - 14), class: 'c-strong' }, 'runs over')
  const motionWord = put(svg, 'text', { x: px(whole.axis + shape.shaft * scale + 8), y: top + 14, class: 'c-strong' })
  const surfaceWord = put(svg, 'text', { x: 2, class: 'c-quiet' }, 'surface')

  const triangle = (tipX, tipY, size) => `M${px(tipX)} ${px(tipY)}l${-size * 1.5} ${-size}v${2 * size}z`
  const diamond = (cx, cy, size) => `M${px(cx)} ${px(cy - size)}l${size} ${size}l${-size} ${size}l${-size} ${-size}z`

  function update(frame) {
    tooth.update(frame)
    close.update(frame)

    const known = isNumber(frame.trueUm)
    for (const node of [truthLine, truthMark, farTruth]) {
      show(node, known)
    }
    say(truthWord, known ? millimetres(frame.trueUm) : 'not known')
    if (known) {
      const z = frame.trueUm / 1000
      const line = clamp(y(z), top, bottom)
      const seen = line === y(z)
      set(truthMark, { d: seen ? triangle(left + 14, line, 6) : z > 0 ? `M${left + 12} ${top + 4}l-7 11h14z` : `M${left + 12} ${bottom - 4}l-7 -11h14z` })
      set(truthLine, { d: seen ? `M${left + 14} ${px(line)}H${px(close.x(-shape.tip))}` : '' })
      set(farTruth, { d: triangle(tooth.x(-shape.radius(clamp(z, 0, shape.length))) - 3, clamp(tooth.y(z), top, bottom), 5) })
    }

    const reads = isNumber(frame.readingUm)
    const bounded = reads && isNumber(frame.boundUm)
    for (const node of [readingMark, farReading]) {
      show(node, reads)
    }
    show(band, bounded)
    show(farBand, bounded)
    say(readingWord, !reads ? 'no distance'
      : bounded ? `${signed(frame.readingUm)} ± ${millimetres(frame.boundUm)}` : millimetres(frame.readingUm))
    say(readingName, reads && !bounded ? '◇ reading, no bound' : '◇ reading')
    if (reads) {
      const z = frame.readingUm / 1000
      const seen = y(z) > top && y(z) < bottom
      set(readingMark, { d: seen ? diamond(middle, y(z), 7) : z > 0 ? `M${middle} ${top + 6}l-7 11h14z` : `M${middle} ${bottom - 6}l-7 -11h14z` })
      const far = clamp(tooth.y(z), top + 8, bottom - 8)
      const side = tooth.x(shape.radius(clamp(z, 0, shape.length))) + 8
      set(farReading, { d: diamond(side, far, 5) })
      if (bounded) {
        const b = frame.boundUm / 1000
        const high = clamp(y(z + b), top, bottom)
        const low = clamp(y(z - b), top, bottom)
        set(band, { y: px(high), height: px(low - high) })
        const farHigh = clamp(tooth.y(z + b), top, bottom)
        const farLow = clamp(tooth.y(z - b), top, bottom)
        set(farBand, { x: px(side - 4), width: 8, y: px(farHigh), height: px(farLow - farHigh) })
      }
    }

    const share = isNumber(frame.leakShare) ? Math.round(clamp(frame.leakShare, 0, 1) * 100) : null
    const touches = known && (!isNumber(frame.fluidUm) || frame.trueUm <= scene.canalUm + frame.fluidUm)
    say(throughWord, share === null || !touches ? '' : `${100 - share} % through`)
    say(aroundWord, share === null || share < 1 ? '' : `${share} % around`)
    const over = isNumber(frame.fluidUm) && frame.fluidUm >= scene.chamberUm - AT_THE_EDGE_UM
    show(spillWord, over)
    const wet = isNumber(frame.fluidUm) && shape.length + frame.fluidUm / 1000 > 0
    show(surfaceWord, wet && !over)
    if (wet) {
      set(surfaceWord, { y: px(tooth.y(shape.length + frame.fluidUm / 1000) + (frame.fluidUm > 0 ? -5 : 4)) })
    }
    const rpm = Math.round(Math.abs(frame.speedRpm || 0))
    say(motionWord, rpm === 0 ? 'at rest' : `${frame.speedRpm < 0 ? '↺' : '↻'} ${rpm} rpm`)
  }

  return { update, micronsPerPixel: (inside) => 1000 / (inside < split ? scale : large) }
}

/** One sentence for people who do not see the picture. */
function describe(frame, scene) {
  const truth = isNumber(frame.trueUm) ? `true tip ${millimetres(frame.trueUm)} from the foramen` : 'true place of the tip not known'
  const bound = isNumber(frame.boundUm) ? ` within ${millimetres(frame.boundUm)}` : ', no bound stated'
  const reading = isNumber(frame.readingUm) ? `reading ${millimetres(frame.readingUm)}${bound}` : 'no reading'
  const leak = isNumber(frame.leakShare) ? `, ${Math.round(frame.leakShare * 100)} percent of the current goes around the canal` : ''
  return `${scene.simulated ? 'Simulated. ' : ''}Canal in section: ${truth}, ${reading}${leak}.`
}

/**
 * Draws a canal.
 *
 * @param {HTMLElement} element where the picture goes
 * @param {object} scene what does not change, see above
 */
export function drawCanal(element, scene) {
  addStyle()
  const svg = put(element, 'svg', { class: 'canal-picture', role: 'img', 'aria-label': 'Canal in section' })
  let parts = null
  let width = 0
  let last = null
  let describedMs = -Infinity

  function fit() {
    const now = Math.max(300, Math.floor(element.clientWidth || 460))
    if (now !== width) {
      width = now
      parts = build(svg, scene, width)
      if (last) {
        parts.update(last)
      }
    }
  }

  fit()
  const watch = new ResizeObserver(fit)
  watch.observe(element)
  return {
    update(frame) {
      last = frame
      parts.update(frame)
      const now = performance.now()
      if (now - describedMs >= DESCRIBE_EVERY_MS) {
        describedMs = now
        svg.setAttribute('aria-label', describe(frame, scene))
      }
    },
    micronsPerPixel(clientX) {
      const box = svg.getBoundingClientRect()
      return (parts.micronsPerPixel(((clientX - box.left) * width) / box.width) * width) / box.width
    },
    destroy() {
      watch.disconnect()
      svg.remove()
    }
  }
}
