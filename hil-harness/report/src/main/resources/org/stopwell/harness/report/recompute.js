// Recomputes the numbers of this page from the trials embedded in it, with methods of its own: an
// element with data-is="STATISTIC CONDITIONS ARGUMENTS" is compared, as text, with what comes out.
'use strict';
(() => {
  const data = JSON.parse(document.getElementById('trials').textContent);
  const NONE = 'not estimable';

  // --- Distributions, written here anew: equal numbers then mean two independent computations.

  // Lanczos, SIAM Journal on Numerical Analysis B 1, 1964, 86; coefficients g = 7, n = 9 (Godfrey).
  const LANCZOS = [0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
    -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
    1.5056327351493116e-7];

  function logGamma(z) {
    if (z < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * z)) - logGamma(1 - z);
    const t = z + 6.5;
    const sum = LANCZOS.slice(1).reduce((s, c, i) => s + c / (z + i), LANCZOS[0]);
    return 0.5 * Math.log(2 * Math.PI) + (z - 0.5) * Math.log(t) - t + Math.log(sum);
  }

  // A continued fraction b0 + a1/(b1 + a2/(b2 + …)) by the modified method of Lentz (1976).
  function fraction(b0, a, b) {
    const keep = (x) => (Math.abs(x) < 1e-300 ? 1e-300 : x);
    let f = keep(b0);
    let c = f;
    let d = 0;
    for (let n = 1; n < 100000; n++) {
      d = 1 / keep(b(n) + a(n) * d);
      c = keep(b(n) + a(n) / c);
      f *= c * d;
      if (Math.abs(c * d - 1) < 1e-15) break;
    }
    return f;
  }

  // Regularised incomplete beta function, NIST Digital Library of Mathematical Functions 8.17.22.
  function beta(a, b, x) {
    if (x <= 0) return 0;
    if (x >= 1) return 1;
    if (x > (a + 1) / (a + b + 2)) return 1 - beta(b, a, 1 - x);
    const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x)
      + b * Math.log1p(-x));
    const part = (n) => {
      const m = Math.floor(n / 2);
      return n % 2 === 0 ? m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        : -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    };
    return front / a / fraction(1, part, () => 1);
  }

  // Upper regularised incomplete gamma function, the same library 8.7.1 and 8.9.2.
  function gammaAbove(a, x) {
    if (x <= 0) return 1;
    const front = Math.exp(a * Math.log(x) - x - logGamma(a));
    if (x < a + 1) {
      let term = 1 / a;
      let sum = term;
      for (let n = 1; term > sum * 1e-17; n++) sum += term *= x / (a + n);
      return 1 - front * sum;
    }
    return front / fraction(x + 1 - a, (n) => n * (a - n), (n) => x + 2 * n + 1 - a);
  }

  const normalBelow = (x) => (x < 0 ? 0.5 * gammaAbove(0.5, x * x / 2)
    : 1 - 0.5 * gammaAbove(0.5, x * x / 2));

  // Where a rising function reaches a value.
  function solve(rising, target, low, high, close = 1e-14) {
    let a = low;
    let b = high;
    for (let i = 0; i < 200; i++) {
      const middle = a + (b - a) / 2;
      if (middle <= a || middle >= b || b - a <= close * Math.abs(b)) break;
      if (rising(middle) < target) a = middle; else b = middle;
    }
    return a + (b - a) / 2;
  }

  // Several numbers and verdicts of a page ask for the same quantile or bound.
  const known = new Map();

  function once(key, compute) {
    if (!known.has(key)) known.set(key, compute());
    return known.get(key);
  }

  // Quantile of Student's t that leaves a tail above it.
  const student = (freedom, tail) => once('t ' + freedom + ' ' + tail, () =>
    solve((t) => -0.5 * beta(freedom / 2, 0.5, freedom / (freedom + t * t)), -tail, 0, 1e9));

  // Exact bounds of a share: Clopper and Pearson, Biometrika 26, 1934, 404.
  const lowerShare = (s, tail) => (s.count === 0 ? 0
    : solve((p) => beta(s.count, s.trials - s.count + 1, p), tail, 0, 1));
  const upperShare = (s, tail) => (s.count === s.trials ? 1
    : solve((p) => beta(s.count + 1, s.trials - s.count, p), 1 - tail, 0, 1));

  // Bounds of the mean of numbers from 0 to 1 (Gaffke 2005): where the sum of the numbers, and of one
  // more 0, with weights uniform on all that add up to 1, stays below with the chance of the tail.
  // That is the chance that the sum of E (x - t), with exponential E, stays below 0; from its
  // characteristic function by the rule of trapezoids in the logarithm of its argument.
  function meanBelow(numbers, t) {
    const times = new Map();
    numbers.concat(0).forEach((x) => times.set(x - t, (times.get(x - t) || 0) + 1));
    const pairs = [...times];
    const sum = (of) => pairs.reduce((all, [a, n]) => all + n * of(a), 0);
    const step = 1 / (8 + 1.2 * Math.sqrt(numbers.length));
    const start = Math.log(1e-16 / sum(Math.abs));
    let integral = 0;
    for (let n = 0, size = 1; size > 1e-16; n++) {
      const s = Math.exp(start + n * step);
      size = Math.exp(-0.5 * sum((a) => Math.log1p(s * s * a * a)));
      integral += size * Math.sin(sum((a) => Math.atan(s * a))) * step;
    }
    return 0.5 - integral / Math.PI;
  }

  const lowerMean = (numbers, tail) => once('mean ' + tail + ' ' + numbers, () =>
    (Math.max(...numbers) === 0 ? 0
      : solve((t) => meanBelow(numbers, t), tail, 0, Math.max(...numbers))));
  const upperMean = (numbers, tail) => 1 - lowerMean(numbers.map((x) => 1 - x), tail);

  // A count is of trials that each have a canal of their own; a list holds one number a canal.
  const lower = (s, tail) => (Array.isArray(s) ? lowerMean(s, tail) : lowerShare(s, tail));
  const upper = (s, tail) => (Array.isArray(s) ? upperMean(s, tail) : upperShare(s, tail));

  // Whether a bound lies beyond a limit: for a list the chance at the limit says so, without the bound.
  const others = (numbers) => numbers.map((x) => 1 - x);
  const between = (s, limit) => Array.isArray(s) && limit > 0 && limit < 1;
  const reaches = (s, limit, tail) => (between(s, limit) ? meanBelow(s, limit) <= tail
    : lower(s, tail) >= limit);
  const exceeds = (s, limit, tail) => (between(s, limit) ? meanBelow(s, limit) < tail
    : lower(s, tail) > limit);
  const staysBelow = (s, limit, tail) => (between(s, limit)
    ? reaches(others(s), 1 - limit, tail) : upper(s, tail) <= limit);
  const fallsShort = (s, limit, tail) => (between(s, limit)
    ? exceeds(others(s), 1 - limit, tail) : upper(s, tail) < limit);

  // Two-sided tolerance factor, ISO 16269-6: Odeh, Communications in Statistics B7, 1978, 183.
  function toleranceFactor(n, share, confidence) {
    const panels = 200;
    const step = 8 / Math.sqrt(n) / panels;
    const nodes = [];
    for (let i = 0; i <= panels; i++) {
      const x = i * step;
      const weight = i === 0 || i === panels ? 1 : i % 2 === 0 ? 2 : 4;
      nodes.push({weight: weight * Math.exp(-n * x * x / 2) * step / 3 * Math.sqrt(2 * n / Math.PI),
        reach: solve((r) => normalBelow(x + r) - normalBelow(x - r), share, 0, x + 40)});
    }
    return solve((k) => nodes.reduce((sum, node) => sum
      + node.weight * gammaAbove((n - 1) / 2, (n - 1) * node.reach * node.reach / (k * k) / 2), 0),
    confidence, 0.1, 1e9);
  }

  // --- Numbers as the page writes them.

  function rounded(value, decimals, mode) {
    const unit = 10n ** BigInt(12 - decimals);
    const digits = BigInt(Math.abs(value).toFixed(12).replace('.', ''));
    const rest = digits % unit;
    const away = mode === 'near' ? 2n * rest >= unit : rest > 0n && (mode === 'up') === (value > 0);
    const whole = digits / unit + (away ? 1n : 0n);
    const text = whole.toString().padStart(decimals + 1, '0');
    return {sign: whole === 0n ? '' : value < 0 ? '\u2212' : '+',
      text: decimals ? text.slice(0, -decimals) + '.' + text.slice(-decimals) : text};
  }

  const signedMm = (microns, mode = 'near') => {
    const r = rounded(microns / 1000, 3, mode);
    return r.sign + r.text;
  };
  const percent = (share, decimals, mode) => rounded(share * 100, decimals, mode).text;
  const plainPercent = (share) => percent(share, 6, 'near').replace(/\.?0+$/, '') + ' %';
  const factor = (logarithm) => rounded(Math.exp(logarithm), 2, 'near').text;
  const lengths = (i) => (i ? signedMm(i[0], 'down') + ' to ' + signedMm(i[1], 'up') + ' mm' : NONE);

  // --- The trials of some conditions.

  const number = data.condition.length;
  const verdict = (i) => data.verdict[i];
  // G and W are undecided too: the error lies in the guard band, or the bench may not decide.
  const isAnalysed = (i) => 'PFUGW'.includes(verdict(i));

  function conditions(word) {
    const all = data.conditions.map((c, i) => i);
    if (word === 'all') return all;
    if (word === 'stop' || word === 'refuse') {
      return all.filter((i) => data.conditions[i].expect === word);
    }
    return word.split(',').map(Number);
  }

  function trials(word) {
    const wanted = new Set(conditions(word));
    const found = [];
    for (let i = 0; i < number; i++) if (wanted.has(data.condition[i])) found.push(i);
    return found;
  }

  function hits(endpoint) {
    const [word, band] = endpoint.split(':');
    return {
      within: (i) => data.error[i] !== null && Math.abs(data.error[i])
        <= (band === undefined ? data.conditions[data.condition[i]].tolerance : Number(band)),
      over: (i) => data.deepest[i] < data.conditions[data.condition[i]].past,
      overrun: (i) => expected(i) === 'depth_limit'
        && data.overrun[i] > data.conditions[data.condition[i]].tolerance,
      without: (i) => data.error[i] === null,
      unstopped: (i) => data.error[i] === null && !(data.unstarted || []).includes(i),
      refused: (i) => verdict(i) === 'P',
    }[word];
  }

  // A trial that was not driven shows nothing about over-travel, unless it went past all the same.
  // Where a refusal is as expected, it shows nothing about stops within a band.
  const idle = new Set(data.idle || []);
  const expected = (i) => data.conditions[data.condition[i]].expect;
  const mayRefuse = (i) => expected(i) === 'stop_or_refuse' || expected(i) === 'compare';
  const isSilent = (endpoint, i) => (endpoint === 'over' && idle.has(i))
    || (endpoint === 'overrun' && idle.has(i) && !hits('overrun')(i))
    || (endpoint.startsWith('within') && mayRefuse(i) && data.error[i] === null);

  const among = (word, endpoint = '') =>
    trials(word).filter((i) => isAnalysed(i) && !isSilent(endpoint, i));

  function share(word, endpoint) {
    const analysed = among(word, endpoint);
    return {count: analysed.filter(hits(endpoint)).length, trials: analysed.length};
  }

  // Trials in several canals with repeats: a number for each canal. All others: nothing.
  function canals(analysed, value) {
    const sums = data.canal ? byCanal({analysed}, value) : [];
    return sums.length > 1 ? sums : null;
  }

  function canalShares(word, endpoint) {
    const counts = hits(endpoint);
    const sums = canals(among(word, endpoint), (i) => (counts(i) ? 1 : 0));
    return sums ? sums.map((s) => s.sum / s.n) : share(word, endpoint);
  }

  function moments(errors) {
    const n = errors.length;
    const mean = errors.reduce((s, e) => s + e, 0) / n;
    const sd = Math.sqrt(errors.reduce((s, e) => s + (e - mean) * (e - mean), 0) / (n - 1));
    return {n, mean, sd};
  }

  const stops = (word) => trials(word).filter((i) => isAnalysed(i) && data.error[i] !== null)
    .map((i) => data.error[i]);

  function meanInterval(m, confidence) {
    if (!(m.n > 1 && m.sd > 0)) return null;
    const half = student(m.n - 1, (1 - confidence) / 2) * m.sd / Math.sqrt(m.n);
    return [m.mean - half, m.mean + half];
  }

  // --- Claims: a bound must meet the limit, and still would had every missing trial gone against it.

  function claimed(number) {
    const c = data.claims[Number(number)];
    return data.rule && data.rule.claim === Number(number) ? ruled().claim : against(c, isAnalysed);
  }

  const isAtMost = (c) => c.endpoint === 'over_travel' || c.endpoint === 'overrun';

  // A trial that is no part of what a claim is about.
  const apart = (c, i) => isAnalysed(i)
    && isSilent(c.endpoint === 'over_travel' ? 'over' : c.endpoint, i);

  // Whether a claim is about trials of which so much is expected.
  const isDue = (c, i) => (c.endpoint === 'refused' ? expected(i) === 'refuse'
    : c.endpoint === 'overrun' ? expected(i) === 'depth_limit'
    : expected(i) === 'stop' || expected(i) === 'depth_limit' || (c.endpoint !== 'bias' && expected(i) === 'stop_or_refuse'));

  // A claim on the trials that say something; all others, and those not run, may go against it.
  function against(c, says) {
    const own = c.conditions.length === 0 ? [] : trials(c.conditions.join(','));
    const missing = c.conditions.reduce((sum, k) => {
      const run = own.filter((i) => data.condition[i] === k);
      return sum + Math.max(0, Math.max(data.conditions[k].planned, run.length)
        - run.filter((i) => says(i) || apart(c, i)).length);
    }, 0);
    const silent = own.filter((i) => !says(i) && !apart(c, i));
    const open = silent.some((i) => verdict(i) === 'R' || isAnalysed(i)) ? 'RIG FAULT'
      : 'NOT DECIDED';
    const unrun = data.unrun ? c.conditions.flatMap((k) => data.unrun[k]) : [];
    return {...c, analysed: own.filter((i) => says(i) && !apart(c, i)), silent, unrun, missing, open};
  }

  // The claim on one condition alone, with some confidence.
  const alone = (c, k, confidence) => against({...c, conditions: [k], confidence}, isAnalysed);

  // The conditions in which a word is found: Holm, Scandinavian Journal of Statistics 6, 1979, 65.
  // In turn, the first condition that has it with the confidence for those that are left is taken.
  function stepDown(c, word) {
    return once(JSON.stringify([c.endpoint, c.within, c.share, c.confidence, c.refused, word]), () => {
      const left = c.conditions.slice();
      const taken = [];
      let at = 0;
      while (at >= 0) {
        const confidence = 1 - (1 - c.confidence) / left.length;
        at = left.findIndex((k) => aloneVerdict(alone(c, k, confidence)) === word);
        if (at >= 0) taken.push(left.splice(at, 1)[0]);
      }
      return taken;
    });
  }

  function eachVerdict(c) {
    if (c.analysed.some((i) => verdict(i) === 'W')) return 'NOT DECIDED';
    if (stepDown(c, 'CONTRADICTED').length) return 'CONTRADICTED';
    const holds = stepDown(c, 'HOLDS');
    const open = c.conditions.filter((k) => !holds.includes(k));
    const strict = 1 - (1 - c.confidence) / open.length;
    return open.length === 0 ? 'HOLDS'
      : open.every((k) => aloneVerdict(alone(c, k, strict)) === 'RIG FAULT') ? 'RIG FAULT'
        : 'NOT DECIDED';
  }

  function claimCounts(c) {
    const endpoint = c.endpoint === 'within' ? 'within:' + c.within
      : c.endpoint === 'over_travel' ? 'over' : c.endpoint === 'overrun' ? 'overrun' : 'refused';
    return (i) => hits(endpoint)(i) && !(c.endpoint === 'within' && verdict(i) === 'G');
  }

  const claimShare = (c) =>
    ({count: c.analysed.filter(claimCounts(c)).length, trials: c.analysed.length});

  // Where trials share canals, each canal counts as one number: its share, or its mean. The missing
  // trials count in theirs.

  function byCanal(c, value, against) {
    const sums = new Map();
    const add = (canal, v) => {
      const s = sums.get(canal) || {n: 0, sum: 0};
      sums.set(canal, {n: s.n + 1, sum: s.sum + v});
    };
    c.analysed.filter((i) => value(i) !== null).forEach((i) => add(data.canal[i], value(i)));
    if (against !== undefined) {
      c.silent.forEach((i) => add(data.canal[i], against));
      if (c.missing) c.unrun.forEach((l) => add(l, against));
    }
    return [...sums.values()];
  }

  function canalMean(sums, confidence) {
    const m = moments(sums.map((s) => s.sum / s.n));
    return new Set(sums.map((s) => s.sum / s.n)).size < 2 ? null : meanInterval(m, confidence);
  }

  // The share of each canal, or the count of all trials; with a value for the missing trials, the
  // worst one.
  function boundShare(c, against, counts = claimCounts(c)) {
    if (data.canal) {
      return byCanal(c, (i) => (counts(i) ? 1 : 0), against).map((s) => s.sum / s.n);
    }
    const s = {count: c.analysed.filter(counts).length, trials: c.analysed.length};
    return against === undefined ? s
      : {count: s.count + against * c.missing, trials: s.trials + c.missing};
  }

  function claimMean(c, against) {
    const confidence = 2 * c.confidence - 1;
    if (data.canal) return canalMean(byCanal(c, (i) => data.error[i], against), confidence);
    const more = against === undefined ? [] : Array(c.missing).fill(against);
    return meanInterval(moments(claimErrors(c).concat(more)), confidence);
  }

  const claimErrors = (c) => c.analysed.map((i) => data.error[i]).filter((e) => e !== null);

  // Trials without a stop have no error: a claim on the mean bounds their share.
  const withoutStop = (c, against) => boundShare(c, against, hits('without'));

  function refusalVerdict(c) {
    const tail = 1 - c.confidence;
    const seen = withoutStop(c);
    if (!staysBelow(seen, c.refused, tail)) {
      return exceeds(seen, c.refused, tail) ? 'CONTRADICTED' : 'NOT DECIDED';
    }
    return staysBelow(withoutStop(c, 1), c.refused, tail) ? 'HOLDS' : c.open;
  }

  // The interval of the mean, had every trial without a stop the error of the worst stop.
  function worstMean(c) {
    const worst = claimErrors(c).reduce((w, e) => Math.max(w, Math.abs(e)), 0);
    const confidence = 2 * c.confidence - 1;
    const [early, late] = [-worst, worst].map((w) => {
      const error = (i) => (data.error[i] === null ? w : data.error[i]);
      return data.canal ? canalMean(byCanal(c, error), confidence)
        : meanInterval(moments(c.analysed.map(error)), confidence);
    });
    return early && late ? [early[0], late[1]] : null;
  }

  function claimVerdict(c) {
    if (c.found) return c.found;
    return c.each && c.conditions.length > 1 ? eachVerdict(c) : aloneVerdict(c);
  }

  function aloneVerdict(c) {
    if (c.analysed.some((i) => verdict(i) === 'W')) return 'NOT DECIDED';
    if (c.endpoint !== 'bias' || c.analysed.length === 0) return partVerdict(c);
    const both = [partVerdict(c), refusalVerdict(c)];
    if (both.includes('CONTRADICTED')) return 'CONTRADICTED';
    const [first, ...others] = both.filter((word) => word !== 'HOLDS');
    return first === undefined ? 'HOLDS' : others.every((word) => word === first) ? first
      : 'NOT DECIDED';
  }

  function partVerdict(c) {
    if (c.analysed.length === 0) return c.open;
    if (c.endpoint === 'bias') {
      const errors = claimErrors(c);
      const seen = claimMean(c);
      if (!seen) return 'NOT DECIDED';
      if (seen[1] < -c.within || seen[0] > c.within) return 'CONTRADICTED';
      const inside = (i) => i !== null && i[0] >= -c.within && i[1] <= c.within;
      if (!inside(seen)) return 'NOT DECIDED';
      const worst = errors.reduce((w, e) => Math.max(w, Math.abs(e)), c.within);
      const survives = [worst, -worst].every((w) => c.missing === 0 || inside(claimMean(c, w)));
      return survives ? 'HOLDS' : c.open;
    }
    const atMost = isAtMost(c);
    const tail = 1 - c.confidence;
    const meets = (s) => (atMost ? staysBelow(s, c.share, tail) : reaches(s, c.share, tail));
    const seen = boundShare(c);
    if (!meets(seen)) {
      const against = (atMost ? exceeds : fallsShort)(seen, c.share, tail);
      return against ? 'CONTRADICTED' : 'NOT DECIDED';
    }
    return meets(boundShare(c, atMost ? 1 : 0)) ? 'HOLDS' : c.open;
  }

  // --- A stopping rule: the trials in run order, until it decides its claim.

  // With sentinels a trial counts when a good one follows it, and never when a bad one does.
  function counted(c) {
    const events = data.index.map((at, i) => ({at, i}))
      .concat(data.sentinel.map(([at, good]) => ({at, good}))).sort((a, b) => a.at - b.at);
    const found = [];
    let waiting = [];
    events.forEach(({at, i, good}) => {
      if (i === undefined) {
        if (good) waiting.forEach((w) => found.push({i: w, at}));
        waiting = [];
      } else if (isAnalysed(i) && !apart(c, i) && isDue(c, i)) {
        if (data.rule.sentinels) waiting.push(i); else found.push({i, at});
      }
    });
    return found;
  }

  // Wald's test as a likelihood ratio, in natural logarithms: the bad share of misses over the good.
  function wald(c) {
    const atMost = isAtMost(c);
    const bad = atMost ? c.share : 1 - c.share;
    const good = atMost ? data.rule.good : 1 - data.rule.good;
    return {miss: Math.log(bad / good), hit: Math.log((1 - bad) / (1 - good)),
      accept: Math.log(1 - c.confidence), reject: -Math.log(1 - data.rule.power)};
  }

  // The likelihood averaged over all shares above a limit, over that at the limit; its logarithm.
  function evidenceAbove(hit, n, limit) {
    const a = hit + 1;
    const b = n - hit + 1;
    return Math.log(beta(b, a, 1 - limit)) + logGamma(a) + logGamma(b) - logGamma(a + b)
      - hit * Math.log(limit) - (n - hit + 1) * Math.log(1 - limit);
  }

  const evidence = (c, misses, n) => {
    const limit = isAtMost(c) ? 1 - c.share : c.share;
    return {holds: evidenceAbove(n - misses, n, limit), fails: evidenceAbove(misses, n, 1 - limit)};
  };

  // The chance of crossing none of the limits c (k/K)^(shape - 1/2) of a sum of equal normal steps.
  function staysInside(constant, looks, shape) {
    const panels = 100;
    const reach = (k) => constant * (k / looks) ** (shape - 0.5) * Math.sqrt(k);
    const density = (x) => Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI);
    let nodes = null;
    for (let k = 1; k <= looks; k++) {
      const step = 2 * reach(k) / panels;
      nodes = Array.from({length: panels + 1}, (unused, i) => {
        const at = i * step - reach(k);
        const weight = (i === 0 || i === panels ? 1 : i % 2 === 0 ? 2 : 4) * step / 3;
        const here = nodes ? nodes.reduce((sum, n) => sum + n.mass * density(at - n.at), 0)
          : density(at);
        return {at, mass: weight * here};
      });
    }
    return nodes.reduce((sum, n) => sum + n.mass, 0);
  }

  // One-sided confidence of each look, rounded up to a ten-thousandth.
  function confidences(c) {
    const {looks, shape} = data.rule;
    const constant = solve((x) => staysInside(x, looks, shape), 1 - 2 * (1 - c.confidence), 0.1, 10,
      1e-9);
    return Array.from({length: looks}, (unused, k) => Math.min(0.9999,
      Math.ceil(normalBelow(constant * ((k + 1) / looks) ** (shape - 0.5)) * 1e4) / 1e4));
  }

  let ruling = null;

  function ruled() {
    if (ruling) return ruling;
    const rule = data.rule;
    const c = data.claims[rule.claim];
    const all = counted(c);
    const misses = [0];
    const looks = [];
    let end = null;
    const strict = rule.kind === 'group-sequential' ? confidences(c) : [];
    const so = (n) => ({...c, analysed: all.slice(0, n).map((e) => e.i), silent: [], unrun: [],
      missing: 0, open: 'NOT DECIDED'});
    // Trials that the rig had spoiled before a place: an early acceptance must survive them as misses.
    const spoiled = (at) => data.index.map((unused, i) => i).filter((i) => data.index[i] < at
      && !isAnalysed(i) && isDue(c, i));
    // Whether a rule that looks after every trial accepts or rejects the claim.
    const enough = -Math.log(1 - c.confidence);
    const limited = c.share > 0 && c.share < 1;
    const ratio = (m, n) => m * wald(c).miss + (n - m) * wald(c).hit;
    const accepts = (m, n) => (rule.kind === 'sprt' ? ratio(m, n) <= wald(c).accept
      : rule.kind === 'anytime' && limited && evidence(c, m, n).holds >= enough);
    const rejects = (m, n) => (rule.kind === 'sprt' ? ratio(m, n) >= wald(c).reject
      : limited && evidence(c, m, n).fails >= enough);
    for (let n = 1; n <= all.length && !end; n++) {
      const {i, at} = all[n - 1];
      misses.push(misses[n - 1] + (claimCounts(c)(i) === isAtMost(c) ? 1 : 0));
      if (all.slice(0, n).some((e) => verdict(e.i) === 'W')) continue;
      let found = null;
      if (rule.kind === 'sprt' || rule.kind === 'anytime') {
        const lost = spoiled(at).length;
        const holds = accepts(misses[n], n) && accepts(misses[n] + lost, n + lost);
        found = holds ? 'HOLDS' : rejects(misses[n], n) ? 'CONTRADICTED' : null;
      } else if (strict.length > looks.length + 1) {
        // A canal counts when the next one has begun.
        const isWhole = (k) => !data.canalAfterCanal || data.canal[k] !== data.canal[i];
        const whole = so(n).analysed.filter(isWhole);
        if (whole.length * rule.looks >= (looks.length + 1) * rule.cap) {
          const silent = spoiled(at).filter(isWhole);
          const look = {...so(n), analysed: whole, silent, missing: silent.length,
            open: silent.some((k) => verdict(k) === 'R') ? 'RIG FAULT' : 'NOT DECIDED',
            confidence: strict[looks.length], number: looks.length + 1};
          looks.push(look);
          const said = claimVerdict(look);
          if (said === 'HOLDS' || said === 'CONTRADICTED') end = {claim: look, at};
        }
      }
      if (found) end = {claim: {...so(n), found}, at};
    }
    if (!end && rule.kind === 'group-sequential') {
      const settled = new Set(all.map((e) => e.i));
      const last = {...against(c, (i) => settled.has(i)), confidence: strict[rule.looks - 1],
        number: rule.looks};
      looks.push(last);
      end = {claim: last};
    }
    // Only the rig keeps a claim open that good trials in place of the spoiled ones would show.
    const own = data.index.map((unused, i) => i)
      .filter((i) => isDue(c, i));
    const most = own.filter((i) => !isAnalysed(i) || !apart(c, i)).length;
    const spoilt = own.length >= rule.cap && most > all.length && accepts(misses[all.length], most);
    ruling = {...(end || {claim: {...so(all.length), found: spoilt ? 'RIG FAULT' : 'NOT DECIDED'}}),
      misses, looks};
    return ruling;
  }

  // --- What data-is may say.

  const of = (s) => s.count + ' of ' + s.trials;
  const inOne = (n, k) => alone(data.claims[n], Number(k), data.claims[n].confidence);

  // The bound that a claim is held against, or the one on its other side.
  function oneBound(c, own) {
    const s = boundShare(c);
    return isAtMost(c) === own
      ? percent(upper(s, 1 - c.confidence), 2, 'up') + ' %'
      : percent(lower(s, 1 - c.confidence), 2, 'down') + ' %';
  }

  function oneMean(c) {
    const means = data.canal ? byCanal(c, (i) => data.error[i]).map((s) => s.sum / s.n)
      : claimErrors(c);
    return means.length ? signedMm(moments(means).mean) + ' mm' : NONE;
  }

  const shareText = (s, text) => (s.trials === 0 ? NONE : text());
  const statistics = {
    planned: (w) => String(conditions(w).reduce((sum, i) => sum + data.conditions[i].planned, 0)),
    run: (w) => String(trials(w).length),
    analysed: (w) => String(trials(w).filter(isAnalysed).length),
    verdicts: (w, letter) => String(trials(w)
      .filter((i) => (letter === 'U' ? 'UGW' : letter).includes(verdict(i))).length),
    stops: (w) => String(stops(w).length),
    mean: (w) => {
      const m = moments(stops(w));
      return m.n ? signedMm(m.mean) + ' mm' : NONE;
    },
    sd: (w) => {
      const m = moments(stops(w));
      return m.n < 2 ? NONE : m.sd === 0 ? '0 (all equal)' : rounded(m.sd / 1000, 3, 'near').text + ' mm';
    },
    'mean-interval': (w, confidence) => {
      const sums = canals(among(w), (i) => data.error[i]);
      return lengths(sums ? canalMean(sums, Number(confidence))
        : meanInterval(moments(stops(w)), Number(confidence)));
    },
    tolerance: (w, part, confidence) => {
      const m = moments(stops(w));
      if (!(m.n > 1 && m.sd > 0)) return NONE;
      const half = toleranceFactor(m.n, Number(part), Number(confidence)) * m.sd;
      return lengths([m.mean - half, m.mean + half]);
    },
    count: (w, endpoint) => of(share(w, endpoint)),
    share: (w, endpoint) => {
      const s = share(w, endpoint);
      return shareText(s, () => percent(s.count / s.trials, 1, 'near') + ' %');
    },
    interval: (w, endpoint, confidence) => {
      const s = canalShares(w, endpoint);
      const tail = (1 - confidence) / 2;
      return shareText(s, () => percent(lower(s, tail), 1, 'down') + ' to '
        + percent(upper(s, tail), 1, 'up') + ' %');
    },
    upper: (w, endpoint, confidence) => {
      const s = canalShares(w, endpoint);
      return shareText(s, () => percent(upper(s, 1 - confidence), 2, 'up') + ' %');
    },
    'claim-count': (n) => of(claimShare(claimed(n))),
    'claim-bound': (n) => oneBound(claimed(n), true),
    'claim-mean': (n) => oneMean(claimed(n)),
    'claim-interval': (n) => {
      return lengths(claimMean(claimed(n)));
    },
    'claim-confidence': (n) => {
      const c = claimed(n);
      return plainPercent(c.endpoint === 'bias' ? 2 * c.confidence - 1 : c.confidence);
    },
    'claim-look': (n) => String(claimed(n).number),
    'claim-canals': (n) => String(boundShare(claimed(n)).length),
    'claim-verdict': (n) => claimVerdict(claimed(n)),
    'claim-unstopped': (n) => {
      const c = claimed(n);
      return of({count: c.analysed.filter(hits('without')).length, trials: c.analysed.length});
    },
    'claim-unstopped-bound': (n) => {
      const c = claimed(n);
      return percent(upper(withoutStop(c), 1 - c.confidence), 2, 'up') + ' %';
    },
    'claim-worst-mean': (n) => lengths(worstMean(claimed(n))),
    'each-holding': (n) => {
      const c = claimed(n);
      return stepDown(c, 'HOLDS').length + ' of ' + c.conditions.length;
    },
    'each-contradicted': (n) => String(stepDown(claimed(n), 'CONTRADICTED').length),
    'alone-count': (n, k) => of(claimShare(inOne(n, k))),
    'alone-bound': (n, k) => oneBound(inOne(n, k), true),
    'alone-other-bound': (n, k) => oneBound(inOne(n, k), false),
    'alone-mean': (n, k) => oneMean(inOne(n, k)),
    'alone-interval': (n, k) => lengths(claimMean(inOne(n, k))),
    'alone-unstopped': (n, k) => {
      const c = inOne(n, k);
      return of({count: c.analysed.filter(hits('without')).length, trials: c.analysed.length});
    },
    'alone-result': (n, k) => {
      const c = claimed(n);
      return stepDown(c, 'HOLDS').includes(Number(k)) ? 'HOLDS'
        : stepDown(c, 'CONTRADICTED').includes(Number(k)) ? 'CONTRADICTED' : 'NOT DECIDED';
    },
    'rule-trial': () => 'trial ' + (ruled().at + 1),
    'rule-against': (n) => String(ruled().misses[n]),
    'rule-accept': (n) => {
      const w = wald(ruled().claim);
      const most = Math.floor((w.accept - n * w.hit) / (w.miss - w.hit));
      return most < 0 ? 'not yet' : String(most);
    },
    'rule-reject': (n) => {
      const w = wald(ruled().claim);
      return String(Math.ceil((w.reject - n * w.hit) / (w.miss - w.hit)));
    },
    'rule-for': (n) => factor(evidence(ruled().claim, ruled().misses[n], Number(n)).holds),
    'rule-contra': (n) => factor(evidence(ruled().claim, ruled().misses[n], Number(n)).fails),
    'rule-look-trials': (k) => String(ruled().looks[k - 1].analysed.length),
    'rule-look-confidence': (k) => plainPercent(ruled().looks[k - 1].confidence),
    'rule-look-verdict': (k) => claimVerdict(ruled().looks[k - 1]),
    'rule-look-interval': (k) => {
      const c = ruled().looks[k - 1];
      if (c.endpoint === 'bias') return lengths(claimMean(c));
      const tail = 1 - c.confidence;
      return c.analysed.length === 0 ? NONE : percent(lower(boundShare(c), tail), 1, 'down')
        + ' to ' + percent(upper(boundShare(c), tail), 1, 'up') + ' %';
    },
  };

  // --- Compare, and say so.

  // What a number is, for people.
  function inWords(is) {
    const [name, where, ...rest] = is.split(' ');
    if (name.startsWith('rule-')) {
      return 'stopping rule: ' + name.slice(5).replace('-', ' ') + (name === 'rule-trial' ? ''
        : name.startsWith('rule-look') ? ', look ' + where : ' after ' + where + ' trials');
    }
    if (name.startsWith('claim-')) return 'claim ' + (Number(where) + 1) + ': ' + name.slice(6);
    if (name.startsWith('each-')) {
      return 'claim ' + (Number(where) + 1) + ': conditions ' + name.slice(5);
    }
    if (name.startsWith('alone-')) {
      return 'claim ' + (Number(where) + 1) + ' in condition ' + (Number(rest[0]) + 1) + ' alone: '
        + name.slice(6).replace('-', ' ');
    }
    const sets = {all: 'all conditions', stop: 'all that must stop', refuse: 'all that must be refused'};
    const words = {over: 'past the foramen', overrun: 'past the depth limit', unstopped: 'refused', without: 'without a stop', P: 'passed', F: 'failed',
      U: 'undecided', S: 'safety stops'};
    return (sets[where] || 'condition ' + (Number(where) + 1)) + ': '
      + [name, ...rest].map((word) => words[word] || word).join(' ').replace('-', ' ');
  }

  const rows = Array.from(document.querySelectorAll('[data-is]'), (element) => {
    const [name, ...words] = element.dataset.is.split(' ');
    const shown = element.textContent.replace(/\u00a0/g, ' ');
    const found = statistics[name](...words);
    return {element, what: inWords(element.dataset.is), shown, found, equal: shown === found};
  });
  const wrong = rows.filter((row) => !row.equal);
  wrong.forEach((row) => row.element.classList.add('unequal'));
  const status = document.getElementById('recomputed');
  status.textContent = wrong.length === 0
    ? 'Recomputed in this page: all ' + rows.length + ' numbers equal'
    : 'Recomputed in this page: ' + wrong.length + ' of ' + rows.length + ' numbers DIFFER';
  const body = document.getElementById('recomputed-rows');
  rows.forEach((row) => {
    const line = document.createElement('tr');
    [row.what, row.shown, row.found, row.equal ? 'equal' : 'DIFFERS'].forEach((text) => {
      const cell = document.createElement('td');
      cell.textContent = text;
      line.append(cell);
    });
    body.append(line);
  });
})();
