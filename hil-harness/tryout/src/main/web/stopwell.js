/*
 * The engine as the page calls it. One scene is open at a time, in two lanes, 0 and 1.
 *
 *   const engine = Stopwell.open(text)   key=value pairs with & between them; throws an Error that says what is wrong
 *   engine.hand(microns)                 the person's hand goes to this depth below the orifice
 *   engine.demand(on)                    the motors may turn, or not
 *   engine.setting(key, value)           fluid.level_mm while the scene runs; what is wrong, or ''
 *   engine.advance(ms)                   time passes, whole milliseconds
 *   engine.scene(lane), .frame(lane)     objects for the drawing, see canal.js
 *   engine.hash(lane)                    hash of the controller's state
 *   engine.sentence(lane)                why the controller is in its state
 *   engine.advice()                      how full the canal may be
 *   engine.plan()                        YAML of a plan that runs the scene
 *
 * Holds the class library of TeaVM (https://teavm.org), under the Apache License, Version 2.0.
 * The build puts the compiled engine and its texts in place of the marks.
 */
globalThis.Stopwell = (() => {
  const exports = {}
  {{engine}}
  const wrong = exports.load({{weights}}, {{ratio}})
  if (wrong) {
    throw new Error(wrong)
  }
  const machine = {
    hand: (microns) => exports.hand(Math.round(microns)),
    demand: (on) => exports.demand(Boolean(on)),
    setting: (key, value) => exports.setting(String(key), String(value)),
    advance: (ms) => exports.advance(Math.round(ms)),
    scene: (lane) => JSON.parse(exports.scene(lane)),
    frame: (lane) => JSON.parse(exports.frame(lane)),
    hash: (lane) => exports.hash(lane),
    sentence: (lane) => exports.sentence(lane),
    advice: () => exports.advice(),
    plan: () => exports.plan()
  }
  return {
    open(text) {
      const said = exports.open(String(text))
      if (said) {
        throw new Error(said)
      }
      return machine
    }
  }
})()
