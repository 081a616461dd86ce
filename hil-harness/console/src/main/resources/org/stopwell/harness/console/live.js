/*
 * The page of a running campaign. It shows what the bench sends and decides nothing.
 * All text goes in as text, never as HTML.
 */
import { drawCanal, millimetres } from '/canal.js'

const byId = (id) => document.getElementById(id)
const name = decodeURIComponent(location.pathname.slice('/watch/'.length))
const WINDOW_S = 6
const KEPT = 900
const STALE_MS = 3000

/* Places in a frame; a covered frame has the first five alone. */
const TRIAL = 0, MS = 1, LINK = 2, LATE = 3, LINE = 4, TRUE = 5, READING = 6, BOUND = 7, FLUID = 8, RPM = 9, NCM = 10,
  TRUST = 11, CAUSE = 12, STATE = 13, DRIVE = 14, REASON = 15

const WORDS = {
  PARKED: 'parked: off, out of the canal', TURNING: 'turning', EASING: 'easing: slowed on approach', HOLDING: 'holding: stopped',
  BACKING: 'backing: turning backwards', ROCKING: 'rocking: alternating', LOCKED: 'locked: latched fault',
  SURE: 'sure: bound within the tolerance', DOUBTFUL: 'doubtful', NONE: 'none: no distance'
}
const CAUSES = {
  NO_CAUSE: '', LEAKING: 'current leaks around the canal', UNWETTED: 'the tip is out of the fluid', OPEN: 'the circuit is open',
  JUMPY: 'the signal jumps', STALE: 'the sample is too old', RAILED: 'the front end is saturated',
  FROZEN: 'the signal does not change', VAGUE: 'unlike everything learned', WIDE: 'bound wider than the tolerance, or none'
}
const REASONS = {
  STARTED_UP: 'nothing has happened yet', CANAL_ENTERED: 'the file entered the canal', CANAL_LEFT: 'the file left the canal',
  APPROACHING: 'the standoff is near', CLEAR_AGAIN: 'the standoff is far again', STANDOFF_REACHED: 'standoff reached',
  PAST_FORAMEN: 'the file is past the foramen', REARMED: 'withdrawn far and long enough', TORQUE_LIMIT: 'torque limit reached',
  TORQUE_RELEASED: 'the file is free again', RETRIES_SPENT: 'torque limit reached too often', BACKED_OUT: 'turned back far enough',
  TRUST_LOST: 'trust in the reading lost', TRUST_REGAINED: 'the reading is trusted again', SIGNAL_STALE: 'the newest sample is too old',
  STOP_LINE: 'the emergency stop is open', LINK_LOST: 'the bench is silent', DEMAND_RELEASED: 'the operator released the demand',
  BAD_INPUT: 'the bench sent impossible values', TIME_FAULT: 'time went backwards or jumped', MOTOR_FAULT: 'the motor does not follow',
  RESET: 'unlocked by the operator', WRONG_DIRECTION: 'the file turns against the command', STALLED: 'the file does not turn',
  RUNAWAY: 'the file turns at rest', OVERHEATED: 'the motor is too hot', SUPPLY_LOW: 'the supply is too low',
  MONITOR_STOP: 'stopped by the monitor', DEPTH_LIMIT: 'depth limit reached', STAGE_REFUSED: 'the stage was kept',
  LOAD_HIGH: 'the load is high', LOAD_LOW: 'the load is low again', FILE_SPENT: 'the file has turned as often as it may',
  OVERSPEED: 'the file turns too fast', AXIS_DROPPED: 'the depth axis is no longer used'
}
const KINDS = {
  WITHIN: 'stop within the tolerance', OUTSIDE: 'stop outside', OVER_TRAVEL: 'over-travel', AS_EXPECTED: 'no stop, as expected',
  NO_STOP: 'no stop, against the plan', NOT_STARTED: 'never started', RIG_FAULT: 'spoiled by the rig', SAFETY_STOP: 'emergency stop'
}
const COLUMNS = [['WITHIN'], ['OUTSIDE'], ['OVER_TRAVEL'], ['AS_EXPECTED'], ['NO_STOP', 'NOT_STARTED', 'SAFETY_STOP'], ['RIG_FAULT']]

let campaign = null
let head = null
let stops = []
let frames = []
let held = []
let heldScene = null
let heldTrial = 0
let frozen = false
let picture = null
let pictured = ''
let scene = null
let run = null
let source = null
let lookOnly = false
let desk = { armed: false }
let heard = 0

function say(id, text) {
  if (byId(id).textContent !== text) byId(id).textContent = text
}

const css = (token) => getComputedStyle(document.documentElement).getPropertyValue(token).trim()
const ms = (value) => `${value < 10 ? value.toFixed(1) : Math.round(value)} ms`

/* ---- what arrives ---- */

async function whole() {
  const answer = await fetch(`/api/live/${encodeURIComponent(name)}`)
  if (!answer.ok) return false
  const all = await answer.json()
  campaign = all.campaign
  stops = all.newStops
  held = all.held
  heldScene = all.heldScene
  heldTrial = all.heldTrial
  if (frames.length === 0) frames = ofTheLastTrial(all.frames)
  take(all)
  showCampaign()
  showStops()
  return true
}

function ofTheLastTrial(list) {
  let from = list.length - 1
  while (from > 0 && list[from - 1][TRIAL] === list[from][TRIAL] && list[from - 1][MS] <= list[from][MS]) from--
  return list.slice(Math.max(0, from))
}

let slow = false
let fetching = false
async function wholeOnce() {
  if (fetching) return
  fetching = true
  try {
    await whole()
  } finally {
    setTimeout(() => { fetching = false }, slow ? 5000 : 1000)
  }
}

function take(message) {
  head = message
  heard = performance.now()
  if (message.scene) scene = message.scene
}

function news(message) {
  take(message)
  for (const frame of message.frames) {
    const last = frames[frames.length - 1]
    if (last && frame[TRIAL] === last[TRIAL] && frame[MS] === last[MS] && frame.length > 5) continue
    if (last && (frame[TRIAL] !== last[TRIAL] || frame[MS] < last[MS])) frames = []
    frames.push(frame)
  }
  if (frames.length > KEPT) frames = frames.slice(-KEPT)
  const next = message.stops - message.newStops.length
  if (stopsEnd() >= next && stopsEnd() < message.stops) {
    stops = stops.concat(message.newStops.slice(stopsEnd() - next))
    counted = message.stops
    showStops()
  } else if (stopsEnd() !== message.stops) {
    wholeOnce()
  }
  heldTrial = message.heldTrial
  later()
}

let counted = 0
const stopsEnd = () => counted

function connect() {
  source = new EventSource(`/live/${encodeURIComponent(name)}`)
  source.addEventListener('message', (event) => news(JSON.parse(event.data)))
  source.addEventListener('pace', (event) => {
    slow = Number(event.data) < 10
    say('pace', slow ? `This page gets ${event.data} updates a second, because another page watches this run too.` : '')
  })
  source.addEventListener('error', () => {
    if (source && source.readyState === EventSource.CLOSED) source = null
  })
}

/* ---- one picture per screen refresh ---- */

let waiting = false
function later() {
  if (!waiting) {
    waiting = true
    requestAnimationFrame(() => { waiting = false; draw() })
  }
}

function draw() {
  if (!head) return
  showHealth()
  if (campaign && campaign.covered) return
  const shown = frozen ? held : frames
  const frame = shown[shown.length - 1]
  if (!frame || frame.length < 6) return
  const now = frozen ? heldScene : scene
  showScene(now)
  showFrame(frame, now)
  showTraces(shown, frame)
}

function showScene(scene) {
  const text = scene ? JSON.stringify({ ...scene, trial: 0, condition: 0 }) : ''
  if (text === pictured) return
  if (picture) picture.destroy()
  picture = scene ? drawCanal(byId('canal'), scene) : null
  pictured = text
  byId('network').hidden = !(scene && scene.network)
}

function showFrame(frame, scene) {
  const known = (value) => value !== null && value !== undefined
  if (picture) {
    picture.update({
      tMs: frame[MS], trueUm: frame[TRUE], readingUm: frame[READING], boundUm: frame[BOUND], trust: frame[TRUST],
      cause: frame[CAUSE], state: frame[STATE], drive: frame[DRIVE], reason: frame[REASON], speedRpm: frame[RPM],
      torqueNcm: frame[NCM], fluidUm: scene && scene.network ? null : frame[FLUID], leakShare: null
    })
  }
  const condition = campaign && scene && scene.trial === frame[TRIAL] ? campaign.conditions[scene.condition] : null
  say('which', `Trial ${frame[TRIAL]}${campaign ? ` of ${campaign.planned}` : ''}` +
    `${condition ? `, condition ${condition.name}, ${condition.expects}` : ''}, ` +
    `${(frame[MS] / 1000).toFixed(1)} s after its start.` + (frozen ? ` Frozen: the last ${seconds(held)} s of the trial.` : ''))
  say('now-state', WORDS[frame[STATE]] || '')
  say('now-reason', REASONS[frame[REASON]] || '')
  say('now-reading', !known(frame[READING]) ? 'no distance'
    : `${millimetres(frame[READING])}${known(frame[BOUND]) ? ` ± ${millimetres(frame[BOUND])}` : ', no bound'}`)
  say('now-trust', `${WORDS[frame[TRUST]] || ''}${CAUSES[frame[CAUSE]] ? ` (${CAUSES[frame[CAUSE]]})` : ''}`)
  say('now-truth', millimetres(frame[TRUE]))
}

const seconds = (list) => list.length < 2 ? '0' : ((list[list.length - 1][MS] - list[0][MS]) / 1000).toFixed(1)

/* ---- traces ---- */

let plots = null

function plot(id, height, series, range, hooks) {
  const element = byId(id)
  const axis = { stroke: css('--soft'), grid: { stroke: css('--rule'), width: 1 }, ticks: { stroke: css('--rule'), width: 1 },
    font: '12px sans-serif' }
  return new uPlot({
    width: Math.max(240, element.clientWidth), height, legend: { show: false }, cursor: { show: false },
    padding: [6, 12, 4, 0],
    scales: { x: { time: false, range: (u, low, high) => [Math.max(0, high - WINDOW_S), Math.max(WINDOW_S, high)] }, y: { range } },
    axes: [{ ...axis, values: (u, ticks) => ticks.map((t) => `${t} s`), show: id === 'torque', size: 28 }, { ...axis, size: 52 }],
    series: [{}, ...series], bands: id === 'distance' ? [{ series: [1, 2], fill: css('--bound') }] : [], hooks: hooks || {}
  }, [[0], ...series.map(() => [null])], element)
}

function lines(u) {
  const scale = (frozen ? heldScene : scene) || { standoffUm: 0 }
  const y = u.valToPos(scale.standoffUm / 1000, 'y', true)
  const zero = u.valToPos(0, 'y', true)
  const c = u.ctx
  c.save()
  c.lineWidth = devicePixelRatio * 1.5
  c.strokeStyle = css('--ink')
  for (const at of [y, zero]) {
    if (at >= u.bbox.top && at <= u.bbox.top + u.bbox.height) {
      c.beginPath()
      c.moveTo(u.bbox.left, at)
      c.lineTo(u.bbox.left + u.bbox.width, at)
      c.stroke()
    }
    c.setLineDash([7 * devicePixelRatio, 4 * devicePixelRatio])
  }
  c.fillStyle = css('--ink')
  c.font = `${12 * devicePixelRatio}px sans-serif`
  c.textAlign = 'left'
  c.fillText('foramen', u.bbox.left + 4 * devicePixelRatio, zero + 13 * devicePixelRatio)
  c.restore()
}

function makePlots() {
  if (plots) Object.values(plots).forEach((p) => p.destroy())
  const from0 = (least) => (u, low, high) => [Math.min(0, low ?? 0) * 1.1, Math.max(least, high ?? 0) * 1.1]
  plots = {
    distance: plot('distance', 220, [
      { stroke: 'transparent', points: { show: false } }, { stroke: 'transparent', points: { show: false } },
      { stroke: css('--reading'), width: 2, points: { show: false } },
      { stroke: css('--truth'), width: 3, dash: [3, 3], points: { show: false } }
    ], () => distanceRange(), { draw: [lines] }),
    speed: plot('speed', 90, [{ stroke: css('--ink'), width: 1.5, points: { show: false } }], from0(100)),
    torque: plot('torque', 115, [{ stroke: css('--ink'), width: 1.5, points: { show: false } }], from0(0.1))
  }
}

let reach = 3
const distanceRange = () => [-1, reach]

function showTraces(shown, last) {
  if (typeof uPlot === 'undefined') return
  if (!plots) makePlots()
  const from = last[MS] - WINDOW_S * 1000
  const list = shown.filter((f) => f[TRIAL] === last[TRIAL] && f[MS] >= from)
  const mm = (value) => value === null ? null : value / 1000
  const x = list.map((f) => f[MS] / 1000)
  const high = Math.max(...list.map((f) => Math.max(f[TRUE], (f[READING] ?? 0) + (f[BOUND] ?? 0)))) / 1000
  reach = [3, 6, 12, 20, 35].find((r) => high <= r) || 40
  plots.distance.setData([x, list.map((f) => f[BOUND] === null ? null : mm(f[READING] + f[BOUND])),
    list.map((f) => f[BOUND] === null ? null : mm(f[READING] - f[BOUND])), list.map((f) => mm(f[READING])),
    list.map((f) => mm(f[TRUE]))])
  plots.speed.setData([x, list.map((f) => f[RPM])])
  plots.torque.setData([x, list.map((f) => f[NCM])])
  showStates(list, last)
}

let statesShown = ''
function showStates(list, last) {
  const spans = []
  const begin = Math.max(0, last[MS] - WINDOW_S * 1000)
  for (const frame of list) {
    const before = spans[spans.length - 1]
    if (!before || before.state !== frame[STATE]) spans.push({ state: frame[STATE], from: frame[MS] })
  }
  const text = spans.map((s) => `${s.state} ${Math.round((s.from - begin) / 50)}`).join() + Math.round(last[MS] / 100)
  if (text === statesShown) return
  statesShown = text
  const parts = []
  if (spans.length > 0 && spans[0].from > begin) parts.push(part('', begin, spans[0].from))
  spans.forEach((s, i) => parts.push(part(s.state, s.from, i + 1 < spans.length ? spans[i + 1].from : last[MS])))
  if (last[MS] < begin + WINDOW_S * 1000) parts.push(part('', last[MS], begin + WINDOW_S * 1000))
  byId('states').replaceChildren(...parts)
}

function part(state, from, to) {
  const span = document.createElement('span')
  span.textContent = state.toLowerCase()
  span.style.flex = `${Math.max(1, to - from)} 1 0`
  span.style.background = state ? `var(--${state === 'PARKED' ? 'wash' : state})` : 'none'
  return span
}

/* ---- campaign, stops, health ---- */

function showCampaign() {
  if (!campaign) return
  counted = head.stops
  byId('simulated').hidden = !campaign.simulated
  say('about', `Plan ${campaign.plan}, on the ${campaign.bench} bench.`)
  for (const id of ['trial', 'stops-box', 'health-box']) byId(id).hidden = false
  byId('covered').hidden = !campaign.covered
  byId('shown').hidden = campaign.covered
  byId('hold').hidden = campaign.covered
  const stretch = byId('stretch')
  stretch.hidden = campaign.stretch <= 1
  stretch.textContent = `Stops appear after every ${campaign.stretch} trials, because the plan hides known-answer trials in the order.`
  const only = byId('only')
  if (only.length !== campaign.conditions.length + 1) {
    only.replaceChildren(new Option('all', ''), ...campaign.conditions.map((c, i) => new Option(c.name, i)))
  }
}

const SVG = 'http://www.w3.org/2000/svg'
function svg(tag, attributes, text) {
  const node = document.createElementNS(SVG, tag)
  Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value))
  if (text !== undefined) node.textContent = text
  return node
}

const MARKS = {
  WITHIN: (x, y) => `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z`,
  OUTSIDE: (x, y) => `M${x} ${y - 5}l5 5l-5 5l-5 -5z`,
  OVER_TRAVEL: (x, y) => `M${x - 5} ${y - 4}h10l-5 9z`,
  AS_EXPECTED: (x, y) => `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z`,
  NO_STOP: (x, y) => `M${x - 5} ${y - 4}l3 -1l2 3l2 -3l3 1l-3 4l3 4l-3 1l-2 -3l-2 3l-3 -1l3 -4z`,
  NOT_STARTED: (x, y) => `M${x - 5} ${y - 1.5}h10v3h-10z`,
  RIG_FAULT: (x, y) => `M${x - 4} ${y - 4}h8v8h-8z`,
  SAFETY_STOP: (x, y) => `M${x - 5} ${y - 5}h10v10h-10zM${x - 2} ${y - 2}v4h4v-4z`
}

let stopsDue = false
function showStops() {
  if (stopsDue || !campaign) return
  stopsDue = true
  setTimeout(() => { stopsDue = false; drawStops() }, 250)
}

function drawStops() {
  const chosen = byId('only').value
  const shown = chosen === '' ? stops : stops.filter((s) => s[1] === Number(chosen))
  const conditions = chosen === '' ? campaign.conditions : [campaign.conditions[Number(chosen)]]
  const tolerance = Math.max(...conditions.map((c) => c.toleranceUm)) / 1000
  const standoff = Math.max(...conditions.map((c) => c.standoffUm)) / 1000
  const box = byId('stops')
  const width = Math.max(300, box.clientWidth)
  const left = 46, right = width - 66, top = 12, bottom = 232
  const range = Math.max(3 * tolerance, standoff + tolerance)
  const high = range, low = -range
  const y = (mm) => top + (high - Math.min(high, Math.max(low, mm))) / (high - low) * (bottom - top)
  const last = shown.length ? Math.max(10, shown[shown.length - 1][0]) : 10
  const first = shown.length ? Math.min(shown[0][0], last - 9) : 1
  const x = (n) => left + 8 + (n - first) / (last - first) * (right - left - 16)
  const lanes = Object.keys(KINDS).slice(3).filter((kind) => shown.some((s) => s[2] === kind))
  const base = bottom + lanes.length * 22
  const picture = svg('svg', { viewBox: `0 0 ${width} ${base + 22}` })
  picture.append(svg('rect', { class: 'band', x: left, width: right - left, y: y(tolerance), height: y(-tolerance) - y(tolerance) }))
  for (const mm of [-2, -1, -0.5, 0.5, 1, 2, 3].filter((v) => Math.abs(v) < range)) {
    picture.append(svg('line', { class: 'grid', x1: left, x2: right, y1: y(mm), y2: y(mm) }),
      svg('text', { class: 'soft', x: left - 6, y: y(mm) + 4, 'text-anchor': 'end' }, `${mm < 0 ? '−' : '+'}${Math.abs(mm)}`))
  }
  picture.append(svg('line', { class: 'aim', x1: left, x2: right, y1: y(0), y2: y(0) }),
    svg('text', { class: 'soft', x: left - 6, y: y(0) + 4, 'text-anchor': 'end' }, '0'),
    svg('text', { x: right + 5, y: y(0) + 4 }, 'standoff'))
  if (standoff > 0) {
    picture.append(svg('line', { class: 'foramen', x1: left, x2: right, y1: y(-standoff), y2: y(-standoff) }),
      svg('text', { x: right + 5, y: y(-standoff) + 4 }, 'foramen'))
  }
  const short = { AS_EXPECTED: 'expected', NO_STOP: 'no stop', NOT_STARTED: 'no start', RIG_FAULT: 'rig', SAFETY_STOP: 'E-stop' }
  lanes.forEach((kind, i) => {
    const at = bottom + (i + 0.5) * 22
    picture.append(svg('line', { class: 'grid', x1: left, x2: right, y1: at, y2: at }),
      svg('text', { class: 'soft', x: right + 5, y: at + 4 }, short[kind]))
  })
  for (const kind of Object.keys(KINDS)) {
    const lane = lanes.indexOf(kind)
    const d = shown.filter((s) => s[2] === kind)
      .map((s) => MARKS[kind](Math.round(x(s[0]) * 10) / 10, Math.round((lane < 0 ? y(s[3] / 1000) : bottom + (lane + 0.5) * 22) * 10) / 10)).join('')
    if (d) picture.append(svg('path', { class: kind, d }))
  }
  picture.append(svg('text', { class: 'soft', x: left, y: base + 16 }, `trial ${first}`),
    svg('text', { class: 'soft', x: right, y: base + 16, 'text-anchor': 'end' }, `trial ${last}`))
  box.replaceChildren(picture)
  const count = (list, kinds) => list.filter((s) => kinds.includes(s[2])).length
  box.setAttribute('aria-label', `${shown.length} trials: ${Object.keys(KINDS).map((k) => [count(shown, [k]), KINDS[k]])
    .filter(([n]) => n > 0).map(([n, words]) => `${n} ${words}`).join(', ') || 'none yet'}`)
  byId('stops-key').replaceChildren(...Object.keys(KINDS).filter((k) => shown.some((s) => s[2] === k)).map((kind) => {
    const item = document.createElement('span')
    const mark = svg('svg', { viewBox: '0 0 14 14', 'aria-hidden': 'true' })
    mark.append(svg('path', { class: kind, d: MARKS[kind](7, 7) }))
    item.append(mark, KINDS[kind])
    return item
  }))
  byId('table').tBodies[0].replaceChildren(...campaign.conditions.map((c, i) => {
    const row = document.createElement('tr')
    const head = document.createElement('th')
    head.scope = 'row'
    head.textContent = c.name
    const of = stops.filter((s) => s[1] === i)
    const cells = [`${of.length} of ${c.planned}`, ...COLUMNS.map((kinds) => count(of, kinds))].map((text) => {
      const cell = document.createElement('td')
      cell.textContent = text
      return cell
    })
    row.append(head, ...cells)
    return row
  }))
}

function showHealth() {
  const frame = frames[frames.length - 1]
  if (frame) {
    say('link', ms(frame[LINK]))
    say('late', campaign && campaign.lockstep ? 'none: this bench waits for each step' : ms(frame[LATE]))
  }
  say('worst', campaign && campaign.lockstep ? 'none' : ms(head.worstLateMs))
  say('faults', String(head.rigFaults))
  say('line', head.stopLine ? 'pressed; cleared at the bench only' : 'not pressed')
  byId('safety').hidden = !head.stopLine
  say('said', head.said)
}

function left() {
  const here = head.done - head.doneBefore
  const remaining = campaign.planned - head.done
  if (here < 1 || remaining < 1) return ''
  const each = (head.nowMs - head.begunMs) / here
  const s = each * remaining / 1000
  return s < 90 ? `, about ${Math.max(1, Math.round(s))} s left`
    : s < 5400 ? `, about ${Math.round(s / 60)} min left` : `, about ${(s / 3600).toFixed(1)} h left`
}

/* ---- what may be asked for ---- */

async function look() {
  try {
    const runs = await (await fetch('/api/runs')).json()
    run = runs.find((r) => r.name === name) || null
    desk = await (await fetch('/api/plans')).json()
    const asked = await (await fetch('/api/calibration')).json()
    byId('asked').hidden = !(run && run.running && asked.number !== undefined)
    say('asked-what', asked.text || '')
    if (run && run.running && !source) {
      if (await whole()) connect()
    }
    showState()
  } catch (e) {
    say('state', 'No answer from the console. Is its program still running?')
  }
}

function showState() {
  if (!run) {
    say('state', 'There is no run of this name.')
    return
  }
  document.title = `${name} – Stopwell`
  say('name', name)
  if (!campaign) say('about', `Plan ${run.plan}, on the ${run.bench} bench.`)
  const live = run.running && head && !head.ended
  const done = live ? head.done : run.run
  const planned = live ? campaign.planned : run.planned
  byId('bar').max = planned
  byId('bar').value = done
  const stale = live && (head.silent || performance.now() - heard > STALE_MS)
  say('state', run.problem ? run.problem
    : run.finished ? `Finished: ${run.verdict}. ${run.meaning}`
      : live ? `Running: ${done} of ${planned} trials finished${left()}.` +
        (run.stop_requested ? ' Stop requested.' : '') + (stale ? ' No news for some seconds.' : '')
        : run.running ? `Running: ${done} of ${planned} trials finished.${run.stop_requested ? ' Stop requested.' : ''}`
          : `Interrupted after ${done} of ${planned} trials. Finished trials are kept.`)
  const stop = byId('stop')
  stop.hidden = lookOnly || !run.running
  byId('request').hidden = stop.hidden
  stop.disabled = run.stop_requested
  stop.textContent = run.stop_requested ? 'Stop requested' : 'Request stop'
  byId('resume').hidden = lookOnly || run.running || run.finished || !desk.armed || Boolean(run.problem)
  byId('resume').disabled = desk.armed && (desk.running !== '' || desk.locked !== '')
  if (desk.armed && desk.locked && !byId('resume').hidden) say('said', desk.locked)
  const report = byId('report')
  report.hidden = !run.report || run.running
  report.href = `/runs/${encodeURIComponent(name)}/report.html`
}

async function post(what, body) {
  const answer = await fetch(`/runs/${encodeURIComponent(name)}/${what}`, { method: 'POST', headers: { 'X-Stopwell': what }, body })
  if (!answer.ok) say('said', await answer.text())
  await look()
}

byId('stop').addEventListener('click', () => post('stop', ''))
byId('resume').addEventListener('click', () => {
  say('what', `${name}: ${run.planned - run.run} trials are left. Bench: ${desk.bench}.`)
  byId('physical').hidden = !desk.physical
  byId('service').hidden = !run.waiting
  byId('sure').showModal()
})
byId('not-now').addEventListener('click', () => byId('sure').close())
byId('go').addEventListener('click', () => {
  byId('sure').close()
  post('resume', run.waiting ? byId('done').value : '')
})
byId('only').addEventListener('change', showStops)
byId('hold').addEventListener('click', async () => {
  if (!frozen) await whole()
  frozen = !frozen && held.length > 0
  byId('hold').setAttribute('aria-pressed', String(frozen))
  say('hold', frozen ? 'Go on live' : 'Show the last stop')
  say('trial-head', frozen ? 'The last stop' : 'The bench now')
  byId('traces').classList.toggle('frozen', frozen)
  later()
})
const redraw = () => { plots && makePlots(); later(); showStops() }
addEventListener('resize', redraw)
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', redraw)

lookOnly = (await (await fetch('/api/console')).json()).look_only
await look()
if (!campaign) await whole()
showState()
setInterval(look, 1000)
