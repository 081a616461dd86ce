import { drawCanal, isNumber, millimetres, say } from './canal.js'
import { stripChart } from './chart.js'

/*
 * The page to try by hand: one hand, two lanes. Each lane has a canal, a motor and a controller of its own; the hand moves
 * the files of both. A scene is a map of keys and values (see stopwell.js); the address after # holds it.
 */

const LANES = [0, 1]
const START = {
  'fluid.level_mm': '8',
  'fluid.irrigant': 'saline_0.9',
  'file.size': '15',
  'file.taper': '0.04',
  'stage': 'length',
  'speed_rpm': '300',
  'lane.0': 'ratio',
  'lane.1': 'approach'
}
/* Keys that the engine takes while the scene runs. All others begin the scene again. */
const LIVE = new Set(['fluid.level_mm'])
/* Where the tip of a link rests; no key of the engine. */
const TIP = 'tip_mm'

const START_ABOVE_MM = 6
/* The page's hand points no farther ahead of a file that the canal holds back, mm. */
const AHEAD_MM = 0.3
const PAST_MM = 1
/* The page carries the file above the fluid, pushes it in the fluid, pushes it near the foramen, and withdraws it so fast,
   mm/s: assumed. */
const CARRY_MM_S = 4
const PUSH_MM_S = 1.5
const NEAR_MM_S = 0.6
const NEAR_MM = 4
const WITHDRAW_MM_S = 4
/* The page's hand reacts this long after both motors stopped, ms: as the hand of a plan. */
const REACTION_MS = 150
const KEY_MM = 0.1
const PAGE_MM = 1
/* Most simulated time for one picture, ms: a slow machine shows slow motion, no gaps. */
const MOST_MS = 50
const STEP_MS = 10
const CHART_EVERY_MS = 100
const WORDS_EVERY_MS = 100
const SAY_EVERY_MS = 1000

const NAMES = { ratio: 'Two-frequency reading', approach: 'Estimate from the whole approach' }
const TRUSTS = { SURE: 'bound within tolerance', DOUBTFUL: 'bound wide, or none stated', NONE: 'no distance to act on' }
const CAUSES = {
  LEAKING: 'current leaks around the canal',
  UNWETTED: 'tip out of the fluid',
  OPEN: 'circuit open',
  JUMPY: 'signal jumps',
  STALE: 'sample too old',
  RAILED: 'front end saturated',
  FROZEN: 'signal does not change',
  VAGUE: 'unlike everything learned',
  WIDE: 'bound wider than tolerance'
}

const HINTS = {
  PARKED: 'The motor waits until the file enters fluid in the canal.',
  HOLDING: 'To turn again, withdraw the file and wait.',
  LOCKED: 'A fault is latched. Start again.'
}

const $ = (selector) => document.querySelector(selector)
const $$ = (selector) => [...document.querySelectorAll(selector)]

const lanes = LANES.map((index) => {
  const root = $(`.lane[data-lane="${index}"]`)
  return {
    index, root,
    name: root.querySelector('h2'),
    state: root.querySelector('.state'),
    reason: root.querySelector('.reason'),
    facts: root.querySelector('.facts'),
    stage: root.querySelector('.stage'),
    canvas: root.querySelector('.chart')
  }
})

let keys = new Map(Object.entries(START))
let engine = null
let length = 16
let chamber = 3
let drawnLevel = 8
let want = 0
let depth = 0
let demand = false
let auto = null
let stoppedMs = 0

const level = () => (keys.has('fluid.level_mm') ? Number(keys.get('fluid.level_mm')) : drawnLevel)
const top = () => -START_ABOVE_MM
const bottom = () => length + PAST_MM

function message(text) {
  const node = $('#message')
  node.hidden = !text
  say(node, text)
}

/* ---- the scene ---- */

const sceneText = () => [...keys].filter(([key]) => key !== TIP).map(([key, value]) => `${key}=${value}`).join('&')

function link() {
  const all = new Map(keys)
  all.delete(TIP)
  if (depth > 0) {
    all.set(TIP, depth.toFixed(2))
  }
  return `#${[...all].map(([key, value]) => `${key}=${encodeURIComponent(value)}`).join('&')}`
}

function fromLink(hash) {
  const found = new Map(Object.entries(START))
  for (const part of hash.replace(/^#/, '').split('&')) {
    const equals = part.indexOf('=')
    if (equals > 0) {
      found.set(decodeURIComponent(part.slice(0, equals)), decodeURIComponent(part.slice(equals + 1)))
    }
  }
  return found
}

function open() {
  try {
    engine = globalThis.Stopwell.open(sceneText())
  } catch (error) {
    message(`This scene cannot be opened. ${error.message || error}`)
    return false
  }
  message('')
  const scenes = LANES.map((index) => engine.scene(index))
  length = scenes[0].canalUm / 1000
  chamber = scenes[0].chamberUm / 1000
  drawnLevel = Math.round(length * 10 + engine.frame(0).fluidUm / 100) / 10
  depth = top()
  want = depth
  stoppedMs = 0
  auto = null
  engine.hand(Math.round(depth * 1000))
  engine.demand(demand)
  lanes.forEach((lane) => {
    lane.picture?.destroy()
    lane.scene = scenes[lane.index]
    lane.picture = drawCanal(lane.stage, lane.scene)
    lane.chart = stripChart(lane.canvas, lane.scene)
    lane.stop = null
    lane.was = null
    const name = NAMES[keys.get(`lane.${lane.index}`)] || keys.get(`lane.${lane.index}`)
    say(lane.name, name)
    say($(`[data-name="${lane.index}"]`), name)
    lane.stage.setAttribute('aria-label', `File, ${name}`)
    lane.stage.setAttribute('aria-valuemin', '0')
    lane.stage.setAttribute('aria-valuemax', String(Math.round((bottom() - top()) * 1000)))
  })
  $$('.switch label').forEach((label, index) => {
    label.lastChild.textContent = ` ${NAMES[keys.get(`lane.${index}`)] || keys.get(`lane.${index}`)}`
  })
  $('#level').max = String(length + chamber)
  advise()
  return true
}

function advise() {
  const surface = level()
  const place = surface === 0 ? 'dry canal'
    : surface > length ? `${(surface - length).toFixed(1)} mm above the orifice`
      : surface === length ? 'at the orifice' : `${(length - surface).toFixed(1)} mm below the orifice`
  say($('#level-says'), place)
  say($('#advice'), engine.advice())
}

/** Changes keys, and takes some away. The scene goes on where the engine can, and begins again where it cannot. */
function change(changes, gone = []) {
  const before = keys
  keys = new Map([...before].filter(([key]) => !gone.includes(key)))
  for (const [key, value] of Object.entries(changes)) {
    keys.set(key, value)
  }
  const names = Object.keys(changes)
  const live = gone.length === 0 && names.every((key) => LIVE.has(key))
  const wrong = live ? names.map((key) => engine.setting(key, keys.get(key))).find((text) => text) : open() ? '' : $('#message').textContent
  if (wrong) {
    keys = before
    if (!live) {
      open()
    }
  }
  message(wrong || '')
  advise()
  showChoices()
  keep()
}

function keep() {
  try {
    history.replaceState(null, '', link())
  } catch {
    /* A browser may refuse to change the address too often; the link button still works. */
  }
}

/* ---- choices ---- */

const pairs = (option) => option.dataset.set.split('&').filter((pair) => pair).map((pair) => pair.split('='))

/** A choice sets several keys; the keys of the choices beside it go. */
function choose(select) {
  const changes = Object.fromEntries(pairs(select.selectedOptions[0]))
  const gone = [...select.options].flatMap((option) => pairs(option).map(([key]) => key)).filter((key) => !(key in changes))
  if (select.id === 'canal') {
    gone.push('fluid.level_mm')
  }
  change(changes, gone)
}

function showChoices() {
  for (const input of $$('[data-key]')) {
    const value = input.id === 'level' ? String(level()) : keys.get(input.dataset.key)
    if (input.tagName === 'SELECT' && ![...input.options].some((option) => option.value === value)) {
      input.append(new Option(value, value))
    }
    input.value = value
  }
  for (const select of [$('#canal'), $('#file')]) {
    let best = null
    for (const option of select.options) {
      if (pairs(option).every(([key, value]) => keys.get(key) === value)
        && (!best || pairs(option).length > pairs(best).length)) {
        best = option
      }
    }
    if (best) {
      select.value = best.value
    }
  }
}

for (const input of $$('[data-key]')) {
  input.addEventListener(input.type === 'range' ? 'input' : 'change', () => change({ [input.dataset.key]: input.value }))
}
for (const select of [$('#canal'), $('#file')]) {
  select.addEventListener('change', () => choose(select))
}
for (const button of $$('[data-level]')) {
  const levels = { half: () => length / 2, orifice: () => length, full: () => length + chamber }
  button.addEventListener('click', () =>
    change({ 'fluid.level_mm': String((levels[button.dataset.level] || (() => 0))()) }))
}
$('.choices').addEventListener('submit', (event) => event.preventDefault())
for (const radio of $$('[name=shown]')) {
  radio.addEventListener('change', () => { $('.work').dataset.shown = radio.value })
}

/* ---- the hand ---- */

function press(on) {
  demand = on
  engine.demand(on)
  $('#demand').setAttribute('aria-pressed', String(on))
}

function move(mm) {
  want = Math.min(bottom(), Math.max(top(), mm))
}

/** Lets the page push (to a depth, or until the motors stop) or withdraw. */
function lead(kind, to = kind === 'push' ? bottom() : top()) {
  if (kind || auto) {
    want = depth
  }
  auto = kind ? { kind, to } : null
  $('#push').setAttribute('aria-pressed', String(kind === 'push'))
  $('#withdraw').setAttribute('aria-pressed', String(kind === 'withdraw'))
}

$('#demand').addEventListener('click', () => press(!demand))
$('#push').addEventListener('click', () => {
  if (auto?.kind === 'push') {
    lead(null)
  } else {
    press(true)
    stoppedMs = 0
    lead('push')
  }
})
$('#withdraw').addEventListener('click', () => lead(auto?.kind === 'withdraw' ? null : 'withdraw'))
$('#again').addEventListener('click', () => {
  open()
  lead(null)
  press(false)
  keep()
})

for (const lane of lanes) {
  let drag = null
  lane.stage.addEventListener('pointerdown', (event) => {
    if (event.button === 0) {
      lane.stage.setPointerCapture(event.pointerId)
      drag = { y: event.clientY, want: depth, scale: lane.picture.micronsPerPixel(event.clientX) / 1000 }
      lead(null)
      lane.stage.focus({ preventScroll: true })
      event.preventDefault()
    }
  })
  lane.stage.addEventListener('pointermove', (event) => {
    if (drag) {
      move(drag.want + (event.clientY - drag.y) * drag.scale)
    }
  })
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
    lane.stage.addEventListener(end, () => {
      if (drag) {
        drag = null
        keep()
      }
    })
  }
  lane.stage.addEventListener('keydown', (event) => {
    const steps = { ArrowDown: KEY_MM, ArrowRight: KEY_MM, ArrowUp: -KEY_MM, ArrowLeft: -KEY_MM, PageDown: PAGE_MM, PageUp: -PAGE_MM }
    if (event.altKey || event.ctrlKey || event.metaKey) {
      return
    }
    if (event.key in steps) {
      lead(null)
      move(Math.round((want + steps[event.key]) * 100) / 100)
    } else if (event.key === 'Home') {
      lead('withdraw')
    } else if (event.key === ' ') {
      press(!demand)
    } else {
      return
    }
    event.preventDefault()
  })
}

/* ---- the tour ---- */

const STEPS = {
  'half-wet'() {
    change(START, [...keys.keys()].filter((key) => !(key in START)))
    press(true)
    lead('push')
  },
  brim() {
    change({ ...Object.fromEntries(keys), 'fluid.level_mm': String(length + chamber) })
    press(false)
  },
  push() {
    press(true)
    stoppedMs = 0
    lead('push')
  },
  look() {
    $('#numbers-name').scrollIntoView({ block: 'nearest' })
    $('#numbers-name').focus({ preventScroll: true })
  }
}
for (const button of $$('[data-step]')) {
  button.addEventListener('click', () => {
    $$('.tour li').forEach((item) => item.removeAttribute('aria-current'))
    button.parentElement.setAttribute('aria-current', 'step')
    STEPS[button.dataset.step]()
  })
}

/* ---- keep ---- */

$('#copy').addEventListener('click', async () => {
  keep()
  const address = location.href.split('#')[0] + link()
  try {
    await navigator.clipboard.writeText(address)
    say($('#kept'), 'The link is on the clipboard.')
  } catch {
    say($('#kept'), 'The browser refused. Copy the address of this page: it holds the scene.')
  }
})
$('#save').addEventListener('click', () => {
  const file = document.createElement('a')
  const address = URL.createObjectURL(new Blob([engine.plan()], { type: 'application/yaml' }))
  file.href = address
  file.download = 'by-hand.yaml'
  file.click()
  setTimeout(() => URL.revokeObjectURL(address), 1000)
  say($('#kept'), 'Saved as by-hand.yaml.')
})

/* ---- time ---- */

const drives = (frame) => Math.abs(frame.speedRpm) > 1

function advance(ms) {
  if (auto) {
    const push = auto.kind === 'push'
    const fluidMm = lanes[0].frame ? -lanes[0].frame.fluidUm / 1000 : 0
    const feed = !push ? -WITHDRAW_MM_S : depth < fluidMm ? CARRY_MM_S : depth < length - NEAR_MM ? PUSH_MM_S : NEAR_MM_S
    move(push ? Math.min(auto.to, want + (feed * ms) / 1000, depth + AHEAD_MM) : Math.max(auto.to, want + (feed * ms) / 1000))
    if (want === auto.to) {
      lead(null)
      keep()
    }
  }
  engine.hand(Math.round(want * 1000))
  engine.advance(ms)
  for (const lane of lanes) {
    const frame = engine.frame(lane.index)
    frame.drives = drives(frame)
    if (lane.frame?.drives && !frame.drives && isNumber(frame.trueUm)) {
      lane.stop = frame.trueUm
      feel()
    } else if (frame.drives) {
      lane.stop = null
    }
    lane.frame = frame
    lane.chart.add(frame)
  }
  depth = length - lanes[0].frame.trueUm / 1000
  /* The page's hand obeys: it stops pushing when no motor that has turned turns any longer. */
  const stopped = lanes.some((lane) => lane.stop !== null) && lanes.every((lane) => !lane.frame.drives)
  stoppedMs = stopped ? stoppedMs + ms : 0
  if (auto?.kind === 'push' && stoppedMs > REACTION_MS) {
    lead(null)
    keep()
  }
}

/** A telephone trembles once when a motor stops. */
function feel() {
  if (navigator.userActivation?.hasBeenActive) {
    navigator.vibrate?.(40)
  }
}

function distance(microns) {
  return isNumber(microns) ? millimetres(microns) : 'none'
}

function offBy(frame) {
  if (!isNumber(frame.readingUm) || !isNumber(frame.trueUm)) {
    return 'nothing to compare'
  }
  const off = frame.readingUm - frame.trueUm
  const size = `${(Math.abs(off) / 1000).toFixed(2)} mm`
  const way = Math.abs(off) < 5 ? size : `${size}, ${off > 0 ? 'reads too far away' : 'reads too near'}`
  return !isNumber(frame.boundUm) ? way : `${way}; ${Math.abs(off) <= frame.boundUm ? 'within' : 'outside'} the bound`
}

function stopWords(lane) {
  if (lane.stop === null) {
    return !lane.frame.drives ? 'no stop yet' : lane.frame.trueUm < 0 ? 'turns past the foramen' : 'turns'
  }
  const off = (lane.stop - lane.scene.standoffUm) / 1000
  if (!(lane.scene.standoffUm > 0)) {
    return millimetres(lane.stop)
  }
  return `${millimetres(lane.stop)}: ${Math.abs(off).toFixed(2)} mm ${off >= 0 ? 'before' : 'beyond'} the standoff`
}

function showWords() {
  const truth = (length - depth) * 1000
  const place = depth < 0 ? `The tip is ${(-depth).toFixed(1)} mm above the orifice.`
    : truth >= 0 ? `The tip is ${millimetres(truth)} short of the foramen.` : `The tip is ${millimetres(truth)} the foramen.`
  say($('#place'), place)
  for (const lane of lanes) {
    const { frame, index } = lane
    const cell = (name, text, loud = false) => {
      const node = $(`[data-cell="${name}-${index}"]`)
      say(node, text)
      node.toggleAttribute('data-loud', loud)
    }
    cell('truth', distance(frame.trueUm), frame.trueUm < 0)
    cell('reading', isNumber(frame.readingUm) ? millimetres(frame.readingUm) : 'no distance', true)
    cell('bound', isNumber(frame.boundUm) ? `± ${(frame.boundUm / 1000).toFixed(2)} mm` : 'none stated')
    cell('off', offBy(frame))
    cell('trust', `${frame.trust}: ${TRUSTS[frame.trust] || ''}`, true)
    cell('cause', CAUSES[frame.cause] ? `${frame.cause}: ${CAUSES[frame.cause]}` : 'none', frame.cause === 'LEAKING')
    cell('speed', `${Math.round(frame.speedRpm)} rpm`)
    cell('torque', `${frame.torqueNcm.toFixed(2)} N·cm`)
    cell('leak', isNumber(frame.leakShare) ? `${Math.round(frame.leakShare * 100)} %` : 'no current')
    cell('stop', stopWords(lane), lane.stop !== null || (frame.drives && frame.trueUm < 0))
    say(lane.state, frame.state)
    lane.state.dataset.state = frame.state
    const [what, numbers = ''] = engine.sentence(index).split(/: (.*)/s)
    say(lane.reason, `${what}.`)
    const hint = demand || frame.drives ? HINTS[frame.state] : 'The demand is off: the motor stays off.'
    say(lane.facts, [hint, frame.reason === 'STARTED_UP' ? '' : `When this happened: ${numbers}`].filter((text) => text).join(' '))
    lane.stage.setAttribute('aria-valuenow', String(Math.round((depth - top()) * 1000)))
    lane.stage.setAttribute('aria-valuetext', place)
  }
}

let saidMs = -Infinity
let saidText = ''

function announce(now) {
  const text = lanes.map((lane) => `${lane.name.textContent}: ${lane.frame.state}. ${lane.reason.textContent} ` +
    `Trust ${lane.frame.trust}${CAUSES[lane.frame.cause] ? `, ${CAUSES[lane.frame.cause]}` : ''}.`).join(' ')
  if (text !== saidText && now - saidMs >= SAY_EVERY_MS) {
    saidText = text
    saidMs = now
    say($('#live'), text)
  }
}

let last = null
let owed = 0
let wordsMs = 0
let chartMs = 0
let realMs = 0
let simulatedMs = 0

function paint(now) {
  const passed = last === null ? 0 : Math.min(250, now - last)
  last = now
  owed = Math.min(MOST_MS, owed + passed)
  realMs += passed
  const began = performance.now()
  while (owed >= STEP_MS && performance.now() - began < MOST_MS) {
    advance(STEP_MS)
    owed -= STEP_MS
    simulatedMs += STEP_MS
  }
  if (lanes[0].frame) {
    lanes.forEach((lane) => lane.picture.update(lane.frame))
    if (now - wordsMs >= WORDS_EVERY_MS) {
      wordsMs = now
      showWords()
      announce(now)
    }
    if (now - chartMs >= CHART_EVERY_MS) {
      chartMs = now
      lanes.forEach((lane) => lane.chart.draw())
    }
  }
  if (realMs > 2000) {
    const share = simulatedMs / realMs
    $('#pace').hidden = share > 0.85
    say($('#pace'), `Slow motion: this machine simulates ${Math.round(share * 100)} % of real time.`)
    realMs = 0
    simulatedMs = 0
  }
  requestAnimationFrame(paint)
}

function begin() {
  keys = fromLink(location.hash)
  const tip = keys.get(TIP)
  keys.delete(TIP)
  if (!open()) {
    const said = $('#message').textContent
    keys = new Map(Object.entries(START))
    open()
    message(`${said} The page shows its first scene instead.`)
  }
  showChoices()
  if (isNumber(Number(tip)) && tip !== undefined) {
    press(true)
    lead('push', Math.min(bottom(), Number(tip)))
  }
}

addEventListener('hashchange', () => {
  if (location.hash !== link()) {
    begin()
  }
})
begin()
requestAnimationFrame(paint)
