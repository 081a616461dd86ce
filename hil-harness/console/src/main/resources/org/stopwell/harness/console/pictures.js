/*
 * What to do, drawn: one picture per kind of question. Own drawings, without scale. Each is a list of
 * parts: tag and attributes. Lines have the class l, filled parts f, what is to be done a, water w.
 */
const box = (x, y, width, height, c) => ['rect', { x, y, width, height, rx: 3, class: c || 'f' }]
const line = (d, c) => ['path', { d, class: c || 'l' }]
const dot = (cx, cy, r, c) => ['circle', { cx, cy, r, class: c || 'f' }]
const arrow = (x, y, dx, dy) => {
  const n = Math.hypot(dx, dy)
  const ux = dx / n * 9, uy = dy / n * 9
  return line(`M${x} ${y}l${dx} ${dy}m${-ux - uy * 0.6} ${-uy + ux * 0.6}L${x + dx} ${y + dy}l${-ux + uy * 0.6} ${-uy - ux * 0.6}`, 'a')
}
const word = (x, y, text, c) => ['text', { x, y, class: c || 't', text }]

const file = (x, tip) => [line(`M${x} ${tip}l-5 -62v-24h10v24z`, 'f'), line(`M${x - 4} ${tip - 50}l8 -6m-7 18l7 -6m-6 18l6 -5`)]
const tooth = [line('M130 62q0 -12 12 -14h36q12 2 12 14q0 14 -8 22l-12 52h-20l-12 -52q-8 -8 -8 -22z', 'f'),
  line('M153 48l4 84h6l4 -84z', 'h')]
const jar = [line('M92 84v62h136v-62'), line('M94 100h134v44h-134z', 'w')]
const hand = (x, y) => [line(`M${x} ${y}v-26q0 -5 5 -5t5 5v14v-20q0 -5 5 -5t5 5v20v-16q0 -5 5 -5t5 5v18v-10q0 -4 4 -4t4 4v24q0 18 -16 18h-6q-12 0 -16 -12z`, 'f')]
const stop = [box(100, 96, 120, 46), line('M120 96q0 -40 40 -40t40 40z', 'e'), line('M146 96v-8h28v8')]

const PICTURES = {
  press_stop: { says: 'A hand presses the emergency stop down.', parts: [...stop, arrow(160, 8, 0, 38)] },
  release_stop: { says: 'The emergency stop is turned and lifted, then reset is pressed.',
    parts: [...stop, line('M124 40a42 20 0 0 1 72 0', 'a'), arrow(196, 38, 3, 9), arrow(160, 50, 0, -34), box(244, 110, 40, 26), word(264, 128, 'reset', 't m')] },
  clear: { says: 'The file stands free in the air. Hands are away from the stage.',
    parts: [box(60, 20, 20, 130), box(80, 42, 70, 18), ...file(140, 140), ...hand(232, 128), line('M224 70l56 76m0 -76l-56 76', 'a')] },
  motor: { says: 'The file turns in the air. Hands are away; the emergency stop is within reach.',
    parts: [box(60, 20, 20, 130), box(80, 42, 70, 18), ...file(140, 140), line('M116 116a26 9 0 1 0 48 0', 'a'), arrow(116, 118, 2, -8),
      box(228, 112, 56, 24), line('M240 112q0 -20 16 -20t16 20z', 'e')] },
  plug: { says: 'The board is connected to its cable again.', parts: [box(40, 56, 110, 64), dot(64, 88, 7, 'h'), dot(94, 88, 7, 'h'), dot(124, 88, 7, 'h'),
    box(214, 72, 44, 32), line('M258 88h46'), line('M206 80h8m-8 16h8'), arrow(200, 88, -40, 0)] },
  meter: { says: 'Two probes of a meter touch the two ends of one part.', parts: [line('M40 118h30m60 0h30'), box(70, 106, 60, 24), box(210, 30, 84, 56), box(222, 40, 60, 20, 'h'),
    line('M224 86q-20 40 -74 22', 'a'), line('M240 86q-40 90 -190 38', 'a'), word(252, 78, 'meter', 't m')] },
  count: { says: 'Parts of one kind on a board are counted.', parts: [box(40, 40, 240, 80), ...[0, 1, 2, 3].map((i) => line(`M${80 + i * 50} 66v28m10 -28v28m-22 -14h12m10 0h12`)),
    word(160, 146, '1   2   3   …', 't m')] },
  block: { says: 'The stage stands at its stop, with a gauge block between.', parts: [box(30, 40, 24, 90), box(54, 66, 62, 34, 'h'), box(116, 50, 110, 70), line('M20 140h270'),
    word(85, 88, 'block', 't m'), arrow(280, 86, -48, 0)] },
  indicator: { says: 'The plunger of an indicator touches the stage; its dial is read.', parts: [box(40, 60, 110, 66), line('M20 140h280'), arrow(60, 44, 70, 0),
    line('M150 92h38'), dot(222, 92, 34), line('M222 92l16 -20', 'a'), dot(222, 92, 3, 'h'), word(222, 148, 'read', 't m')] },
  thermometer: { says: 'A thermometer stands in the room.', parts: [line('M152 24q8 -10 16 0v84a18 18 0 1 1 -16 0z', 'f'), line('M160 56v60', 'a'), dot(160, 124, 10, 'e'), line('M176 40h10m-10 20h10m-10 20h10')] },
  paper: { says: 'A certificate lies beside the instrument.', parts: [line('M96 20h96l28 28v98h-124z', 'f'), line('M192 20v28h28'), line('M114 70h86m-86 18h86m-86 18h60'), dot(188, 124, 10, 'e')] },
  person: { says: 'The person at the bench gives a name.', parts: [dot(160, 52, 24), line('M112 144q0 -56 48 -56t48 56z', 'f'), box(104, 118, 112, 24, 'h'), word(160, 135, 'name', 't m')] },
  mount: { says: 'The tooth is set upright into its medium.', parts: [...jar, ...tooth, arrow(160, 4, 0, 34)] },
  clips: { says: 'The lip clip hangs in the medium; the file clip holds the file.', parts: [...jar, ...tooth, ...file(160, 108), line('M212 124v-74q0 -20 20 -20h60', 'a'), line('M206 118q6 14 12 0', 'a'),
    line('M168 34h124', 'a'), word(296, 26, 'lip clip', 't r'), word(296, 50, 'file clip', 't r')] },
  fill: { says: 'The canal is filled with a syringe to the stated level.', parts: [...tooth, line('M154 80l3 50h6l3 -50z', 'w'), line('M160 60l58 -40', 'a'), line('M214 14l40 -26l14 20l-40 26z', 'f'),
    line('M120 80h-50m0 0l8 -5m-8 5l8 5', 'a'), word(66, 84, 'level', 't r')] },
  dry: { says: 'Canal and chamber are dried with paper points.', parts: [...tooth, line('M160 108l-3 -92h6z', 'e'), arrow(196, 64, 0, -40)] },
  touch: { says: 'The tip of the file touches the reference point of the tooth.', parts: [...tooth, ...file(136, 52), box(60, 8, 20, 130), line('M80 16h50'), arrow(104, 30, 0, 24), dot(136, 52, 6, 'a')] },
  withdraw: { says: 'The file is drawn up until its tip is above the tooth.', parts: [...tooth, ...file(160, 36), arrow(214, 76, 0, -52)] },
  clamp: { says: 'The file is taken out of its clamp and clamped anew.', parts: [box(110, 20, 40, 60), box(170, 20, 40, 60), ...file(160, 150), arrow(90, 50, 22, 0), arrow(230, 50, -22, 0)] },
  stage: { says: 'The stage is moved to the stated place.', parts: [line('M20 130h280'), box(90, 70, 110, 58), line('M30 120v20m240 -20v20'), arrow(210, 98, 56, 0), arrow(80, 98, -44, 0)] }
}

export function picture(name) {
  const NS = 'http://www.w3.org/2000/svg'
  const of = PICTURES[name]
  if (!of) return null
  const svg = document.createElementNS(NS, 'svg')
  svg.setAttribute('viewBox', '0 -16 320 176')
  svg.setAttribute('role', 'img')
  svg.setAttribute('aria-label', of.says)
  svg.setAttribute('class', 'todo')
  for (const [tag, attributes] of of.parts) {
    const part = document.createElementNS(NS, tag)
    for (const [key, value] of Object.entries(attributes)) {
      if (key === 'text') part.textContent = value
      else part.setAttribute(key, value)
    }
    svg.append(part)
  }
  return svg
}
