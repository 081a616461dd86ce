/*
 * The last seconds of one lane: distance (truth and reading apart), speed, torque, state and trust over time.
 *
 *   const chart = stripChart(canvas, scene)   chart.add(frame)   chart.draw()
 */

const SECONDS = 30
/* A sample at most this often, ms of simulated time. */
const SAMPLE_MS = 50
const FARTHEST = 6
const DEEPEST = -1

/**
 * Draws onto a canvas that CSS sizes; colours come from the custom properties of the page.
 *
 * @param {HTMLCanvasElement} canvas where
 * @param {object} scene standoffUm and toleranceUm of the lane
 */
export function stripChart(canvas, scene) {
  const samples = []

  function add(frame) {
    const last = samples[samples.length - 1]
    if (last && frame.tMs < last.tMs) {
      samples.length = 0
    } else if (last && frame.tMs - last.tMs < SAMPLE_MS && frame.state === last.state && frame.trust === last.trust) {
      return
    }
    samples.push({ ...frame })
    while (samples.length > 0 && frame.tMs - samples[0].tMs > SECONDS * 1000) {
      samples.shift()
    }
  }

  function draw() {
    const width = canvas.clientWidth
    const height = canvas.clientHeight
    if (width === 0) {
      return
    }
    const dots = globalThis.devicePixelRatio || 1
    if (canvas.width !== Math.round(width * dots) || canvas.height !== Math.round(height * dots)) {
      canvas.width = Math.round(width * dots)
      canvas.height = Math.round(height * dots)
    }
    const look = getComputedStyle(canvas)
    const colour = (name) => look.getPropertyValue(name).trim()
    const pen = canvas.getContext('2d')
    pen.setTransform(dots, 0, 0, dots, 0, 0)
    pen.clearRect(0, 0, width, height)
    pen.font = `11px ${look.fontFamily}`
    pen.textBaseline = 'middle'

    const left = 34
    const right = width - 4
    const end = samples.length > 0 ? samples[samples.length - 1].tMs : 0
    const x = (tMs) => right - ((end - tMs) / (SECONDS * 1000)) * (right - left)
    const ribbons = 2 * 20 + 18
    const small = (height - ribbons) * 0.22
    const first = height - ribbons - 2 * small

    const words = (text, px, py, align = 'left', tone = '--soft') => {
      pen.fillStyle = colour(tone)
      pen.textAlign = align
      pen.fillText(text, px, py)
    }
    const rule = (py, tone, dash, thick) => {
      pen.strokeStyle = colour(tone)
      pen.setLineDash(dash)
      pen.lineWidth = thick
      pen.beginPath()
      pen.moveTo(left, py)
      pen.lineTo(right, py)
      pen.stroke()
      pen.setLineDash([])
    }
    const line = (value, y, tone, dash, thick) => {
      pen.strokeStyle = colour(tone)
      pen.setLineDash(dash)
      pen.lineWidth = thick
      pen.beginPath()
      let drawing = false
      for (const sample of samples) {
        const v = value(sample)
        if (v === null || v === undefined) {
          drawing = false
        } else {
          pen[drawing ? 'lineTo' : 'moveTo'](x(sample.tMs), y(v))
          drawing = true
        }
      }
      pen.stroke()
      pen.setLineDash([])
    }

    /* Distance. */
    const top = 16
    const y = (um) => top + ((FARTHEST - um / 1000) / (FARTHEST - DEEPEST)) * (first - top - 4)
    words('distance from the foramen, mm', left, 7)
    for (let mm = DEEPEST; mm <= FARTHEST; mm++) {
      rule(y(mm * 1000), '--rule', [], 1)
      words(`${mm < 0 ? '−' : ''}${Math.abs(mm)}`, left - 5, y(mm * 1000), 'right')
    }
    pen.save()
    pen.beginPath()
    pen.rect(left, top - 1, right - left, first - top - 2)
    pen.clip()
    pen.fillStyle = colour('--bound')
    for (let i = 1; i < samples.length; i++) {
      const s = samples[i]
      if (s.readingUm !== null && s.boundUm !== null) {
        const high = y(s.readingUm + s.boundUm)
        pen.fillRect(x(samples[i - 1].tMs), high, x(s.tMs) - x(samples[i - 1].tMs) + 0.5, y(s.readingUm - s.boundUm) - high)
      }
    }
    rule(y(0), '--ink', [7, 4], 1.4)
    if (scene.standoffUm > 0) {
      rule(y(scene.standoffUm), '--ink', [], 1.4)
    }
    line((s) => s.readingUm, y, '--reading', [5, 3], 1.8)
    line((s) => s.trueUm, y, '--truth', [], 2.2)
    pen.restore()

    /* Speed and torque. */
    const panel = (base, name, value, least) => {
      const values = samples.map((s) => value(s) || 0)
      const high = Math.max(least, ...values)
      const low = Math.min(0, ...values)
      const on = (v) => base + small - 3 - ((v - low) / (high - low)) * (small - 20)
      words(name, left, base + 8)
      rule(on(0), '--rule', [], 1)
      words('0', left - 5, on(0), 'right')
      words(high >= 10 ? high.toFixed(0) : high.toFixed(2), left - 5, on(high), 'right')
      line(value, on, '--ink', [], 1.5)
    }
    panel(first, 'speed, rpm', (s) => s.speedRpm, 100)
    panel(first + small, 'torque, N·cm', (s) => s.torqueNcm, 0.1)

    /* State and trust, each stretch with its word. */
    const ribbon = (base, value) => {
      let from = 0
      for (let i = 1; i <= samples.length; i++) {
        if (i === samples.length || value(samples[i]) !== value(samples[from])) {
          const name = value(samples[from])
          const start = Math.max(left, x(samples[from].tMs))
          const stop = i === samples.length ? right : x(samples[i].tMs)
          pen.fillStyle = colour(`--${name}`) || colour('--wash')
          pen.fillRect(start, base, stop - start, 17)
          pen.fillStyle = colour('--edge')
          pen.fillRect(start, base, 1, 17)
          if (stop - start > pen.measureText(name).width + 6) {
            words(name, start + 4, base + 9, 'left', '--ink')
          }
          from = i
        }
      }
    }
    words('state', left - 5, height - ribbons + 9, 'right')
    words('trust', left - 5, height - ribbons + 29, 'right')
    ribbon(height - ribbons, (s) => s.state)
    ribbon(height - ribbons + 20, (s) => s.trust)
    words(`${SECONDS} s ago`, left, height - 8)
    words('now', right, height - 8, 'right')
  }

  return { add, draw }
}
