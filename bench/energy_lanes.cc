/* The energy step of energy/kernel.py for eight runs side by side, in the compiler's own vectors: the reference for the
   speed of the lanes. Lithium without heater, shedding or refrigerator, by the same laws in the same order. */
#include <math.h>
#include <string.h>

enum { LANES = 8, MOST_CONSUMERS = 16, MOST_SOURCES = 8, MOST_ITERATIONS = 80 };
typedef double lanes __attribute__((vector_size(64), aligned(8), may_alias));
typedef long mask __attribute__((vector_size(64)));

struct study {
    long points, consumers, sources, steps;
    const lanes *table_ah, *table_v, *slopes;
    const lanes *resistance_ohm, *doubling_k, *efficiency, *self_a, *cutoff_v, *reconnect_v, *most_out_a;
    const lanes *discharge_min, *charge_max_v, *charge_again_v, *charge_min, *charge_max, *lag_h, *open_v, *close_v;
    const lanes *start_ah, *start_degc, *cold_loss_per_k;
    double nominal_v, step_h;
    const long *kind;
    const unsigned char *is_cut;
    const lanes *path_ohm, *lock_v, *unlock_v, *set_v, *source_ohm, *on_w, *duty, *peak_w, *long_w, *ac_w, *loss_w;
    const lanes *standby_w, *limit_a, *available_w, *zone_degc;
    lanes *charge_ah, *battery_v, *end_v, *low_v, *battery_a, *peak_a, *cell_degc, *wanted_a, *source_w;
    lanes *consumer_w, *missing_w;
    unsigned char *is_unserved, *cut, *open, *blocked;
    lanes *terms_wh;
};

struct piece { lanes bottom, top, start, y, slope; };

struct now {
    const struct study *s;
    long lowest, count, live, member[MOST_CONSUMERS], kind[MOST_CONSUMERS], source[MOST_SOURCES];
    lanes power_w[MOST_CONSUMERS], duty[MOST_CONSUMERS], ohm[MOST_CONSUMERS];
    lanes peak_w[MOST_CONSUMERS], long_w[MOST_CONSUMERS];
    lanes set_v[MOST_SOURCES], source_ohm[MOST_SOURCES], limit_a[MOST_SOURCES], available_w[MOST_SOURCES];
    lanes q, floor, self_a, battery_ohm, fixed_w, full_limit_a, noise_a, efficiency;
    struct piece at;
};

static const lanes NONE = {0};
static const mask NO = {0};
static inline lanes all(double x) { return NONE + x; }
static inline lanes pick(mask m, lanes a, lanes b) { return m ? a : b; }
static inline lanes least(lanes a, lanes b) { return a < b ? a : b; }
static inline lanes most(lanes a, lanes b) { return a > b ? a : b; }
static inline lanes size_of(lanes a) { return a < 0.0 ? -a : a; }
static inline bool any(mask m)
{
    long found = 0;
    for (int l = 0; l < LANES; l++) found |= m[l];
    return found != 0;
}
static inline bool every(mask m) { return !any(~m); }
static inline lanes root(lanes x)
{
    lanes r;
    for (int l = 0; l < LANES; l++) r[l] = sqrt(x[l]);
    return r;
}
static inline mask truths(const unsigned char *at)
{
    mask m;
    for (int l = 0; l < LANES; l++) m[l] = at[l] ? -1 : 0;
    return m;
}
static inline void put(unsigned char *at, mask m)
{
    for (int l = 0; l < LANES; l++) at[l] = m[l] != 0;
}

static inline long lowest_piece(const struct study *s, lanes x, long near)
{
    long i = near;
    while (i < s->points - 2 && every(x > s->table_ah[i + 1])) i++;
    while (i > 0 && any(x <= s->table_ah[i])) i--;
    return i;
}

static inline struct piece piece_at(const struct study *s, long lowest, lanes x)
{
    const lanes *table = s->table_ah;
    long i = lowest, last = s->points - 2;
    struct piece p = {i > 0 ? table[i] : table[i] - 1e30, i < last ? table[i + 1] : table[i] + 1e30, table[i],
                      s->table_v[i], s->slopes[i]};
    while (i < last && any(x > p.top)) {
        i++;
        mask above = x > table[i];
        p.bottom = pick(above, table[i], p.bottom), p.start = pick(above, table[i], p.start);
        p.y = pick(above, s->table_v[i], p.y), p.slope = pick(above, s->slopes[i], p.slope);
        p.top = pick(above, i < last ? table[i + 1] : p.start + 1e30, p.top);
    }
    return p;
}

static inline lanes table_value(const struct now *n, lanes x)
{
    struct piece p = n->at;
    if (!every((x > p.bottom) & (x <= p.top))) p = piece_at(n->s, lowest_piece(n->s, x, n->lowest), x);
    return p.y + p.slope * (x - p.start);
}

static inline lanes mean_across(const struct study *s, long near, lanes low, lanes high)
{
    long i = lowest_piece(s, low, near), last = s->points - 2;
    lanes area = NONE, bottom = low;
    for (;;) {
        lanes top = i < last ? least(high, s->table_ah[i + 1]) : high, width = most(top - bottom, NONE);
        area += width * (s->table_v[i] + s->slopes[i] * (0.5 * (bottom + top) - s->table_ah[i]));
        if (i == last || !any(high > top)) return area / (high - low);
        i++;
        bottom = most(low, top);
    }
}

static inline lanes table_mean(const struct now *n, lanes x0, lanes x1)
{
    const struct piece *p = &n->at;
    lanes value = p->y + p->slope * (0.5 * (x0 + x1) - p->start);
    mask inside = (x1 > p->bottom) & (x1 <= p->top);
    if (!every(inside)) value = pick(inside, value, mean_across(n->s, n->lowest, least(x0, x1), most(x0, x1)));
    return value;
}

static inline lanes consumer_a(long kind, lanes on_w, lanes ohm, double nominal_v, lanes v)
{
    if (kind == 0) {
        lanes rest = v * v - 4.0 * ohm * on_w, amps = 2.0 * on_w / (v + root(most(rest, NONE)));
        mask collapsed = rest <= 0.0;
        return any(collapsed) ? pick(collapsed, 0.5 * v / ohm, amps) : amps;
    }
    if (kind == 1) {
        lanes amps = on_w / nominal_v;
        mask collapsed = amps * ohm >= v;
        return any(collapsed) ? pick(collapsed, v / ohm, amps) : amps;
    }
    return v * on_w / (nominal_v * nominal_v + ohm * on_w);
}

static inline lanes charger_a(lanes set_v, lanes ohm, lanes limit_a, lanes available_w, lanes v)
{
    lanes by_power = 2.0 * available_w / (v + root(v * v + 4.0 * ohm * available_w));
    return most(least(least((set_v - v) / ohm, limit_a), by_power), NONE);
}

static inline lanes charge_after(const struct now *n, lanes amps)
{
    return n->q + (amps * pick(amps > 0.0, n->efficiency, all(1.0)) - n->self_a) * n->s->step_h;
}

static inline lanes chargers_a(const struct now *n, lanes v)
{
    lanes total = NONE;
    for (long k = 0; k < n->live; k++)
        total += charger_a(n->set_v[k], n->source_ohm[k], n->limit_a[k], n->available_w[k], v);
    return total;
}

static inline lanes taken_a(const struct now *n, lanes v)
{
    lanes total = NONE;
    for (long i = 0; i < n->count; i++)
        total += n->duty[i] * consumer_a(n->kind[i], n->power_w[i], n->ohm[i], n->s->nominal_v, v);
    return total + n->fixed_w / v;
}

static inline lanes balance(const struct now *n, lanes amps, lanes *v, lanes *scale)
{
    *v = most(table_mean(n, n->q, charge_after(n, amps)) + amps * n->battery_ohm, all(0.25 * n->s->nominal_v));
    lanes given = chargers_a(n, *v), taken = taken_a(n, *v);
    *scale = given + taken + size_of(amps);
    return given - taken - amps;
}

static lanes solve(const struct now *n, lanes guess, lanes most_a, lanes *bus, lanes *used, mask *is_empty)
{
    lanes hi = n->full_limit_a, v, scale;
    *used = all(1.0);
    mask filled = hi > most_a, full = filled;
    hi = least(hi, most_a);
    if (any(full)) {
        lanes rest = balance(n, hi, &v, &scale);
        filled = full & (rest >= 0.0);
        if (any(filled)) {
            lanes given = chargers_a(n, v);
            *used = pick(filled, pick(given > 0.0, (given - rest) / given, NONE), all(1.0));
            if (every(filled)) {
                *bus = v, *is_empty = NO;
                return hi;
            }
        }
    }
    lanes lo = least(n->self_a - most(n->q - n->floor, NONE) / n->s->step_h, NONE);
    lanes x = pick(filled, hi, least(most(guess, lo), hi)), f = balance(n, x, &v, &scale), next = x + f;
    mask goes_on = ~filled;
    for (int turn = 0; turn < MOST_ITERATIONS; turn++) {
        goes_on &= size_of(f) > 1e-13 * scale + n->noise_a;
        if (!any(goes_on)) break;
        lo = pick(f > 0.0, most(lo, x), lo), hi = pick(f > 0.0, hi, least(hi, x));
        goes_on &= hi - lo > 4e-16 * most(size_of(hi), size_of(lo));
        if (!any(goes_on)) break;
        lanes tried = turn % 6 == 5 ? 0.5 * (lo + hi) : pick((lo < next) & (next < hi), next, 0.5 * (lo + hi));
        lanes old_x = x, old_f = f;
        x = pick(goes_on, tried, x);
        f = balance(n, x, &v, &scale);
        next = pick(f != old_f, x - f * (x - old_x) / (f - old_f), 0.5 * (lo + hi));
    }
    *bus = v;
    *is_empty = ~filled & ((f < -1e-9 * scale) | (v <= 0.25 * n->s->nominal_v));
    return x;
}

static lanes level_at_balance(const struct now *n, lanes hi, mask goes_on)
{
    lanes lo = n->q, rest_v = table_value(n, lo), low_gap = chargers_a(n, rest_v) - taken_a(n, rest_v);
    lanes high_gap = NONE, side = NONE, middle = hi;
    for (int turn = 0; turn < MOST_ITERATIONS; turn++) {
        rest_v = table_value(n, middle);
        lanes gap = chargers_a(n, rest_v) - taken_a(n, rest_v);
        mask rises = goes_on & (gap > 0.0), falls = goes_on & (gap <= 0.0);
        high_gap = pick(falls, gap, pick(rises & (side > 0.0), 0.5 * high_gap, high_gap));
        low_gap = pick(rises, gap, pick(falls & (side < 0.0), 0.5 * low_gap, low_gap));
        lo = pick(rises, middle, lo), hi = pick(falls, middle, hi);
        side = pick(rises, all(1.0), pick(falls, all(-1.0), side));
        goes_on &= (low_gap > 0.0) & (hi - lo > 1e-12 * hi);
        if (!any(goes_on)) break;
        middle = lo + (hi - lo) * least(most(low_gap / (low_gap - high_gap), all(0.001)), all(0.999));
    }
    return lo;
}

static lanes sagging_v(const struct now *n, lanes rest_v, const lanes *power_w)
{
    lanes lo = 0.5 * rest_v, hi = rest_v, v = rest_v;
    mask goes_on = rest_v > 0.0;
    for (int turn = 0; turn < 30; turn++) {
        lanes taken = n->fixed_w / v;
        for (long i = 0; i < n->count; i++)
            taken += consumer_a(n->kind[i], power_w[i], n->ohm[i], n->s->nominal_v, v);
        lanes gap = rest_v - n->battery_ohm * taken - v;
        goes_on &= size_of(gap) > 1e-7 * rest_v;
        if (!any(goes_on)) break;
        mask rises = gap > 0.0;
        lo = pick(goes_on & rises, v, lo), hi = pick(goes_on & ~rises, v, hi);
        lanes slope = n->battery_ohm * taken / v - 1.0, next = pick(slope < 0.0, v - gap / slope, lo);
        next = pick((lo < next) & (next < hi), next, 0.5 * (lo + hi));
        v = pick(goes_on, next, v);
    }
    return v;
}

static mask gather(struct now *n, long t, mask runs, const mask *lock, mask is_cut, mask *is_any)
{
    const struct study *s = n->s;
    mask is_long = NO;
    n->count = 0;
    *is_any = NO;
    for (long j = 0; j < s->consumers; j++) {
        long at = t * s->consumers + j, i = n->count;
        lanes duty = s->duty[at];
        mask on = runs & (duty > 0.0) & ~lock[j];
        if (s->is_cut[j]) on &= ~is_cut;
        if (!any(on)) continue;
        lanes mean_w = duty * s->on_w[at];
        n->member[i] = j, n->kind[i] = s->kind[j], n->ohm[i] = s->path_ohm[j];
        n->power_w[i] = pick(on, s->on_w[at], NONE), n->duty[i] = pick(on, duty, NONE);
        n->peak_w[i] = pick(on, s->peak_w[at], NONE), n->long_w[i] = pick(on, most(s->long_w[at], mean_w), NONE);
        *is_any |= on;
        is_long |= on & (s->long_w[at] > mean_w);
        n->count++;
    }
    return is_long;
}

static lanes gather_sources(struct now *n, long t)
{
    const struct study *s = n->s;
    lanes top_v = NONE;
    n->live = 0, n->full_limit_a = NONE, n->noise_a = NONE;
    for (long k = 0; k < s->sources; k++) {
        lanes limit = s->limit_a[t * s->sources + k], power = s->available_w[t * s->sources + k];
        mask is_live = (limit > 0.0) & (power > 0.0);
        if (!any(is_live)) continue;
        long i = n->live++;
        n->source[i] = k, n->set_v[i] = s->set_v[k], n->source_ohm[i] = s->source_ohm[k];
        n->limit_a[i] = pick(is_live, limit, NONE), n->available_w[i] = pick(is_live, power, NONE);
        n->full_limit_a += n->limit_a[i];
        n->noise_a = pick(is_live, most(n->noise_a, 4e-16 * s->set_v[k] / s->source_ohm[k]), n->noise_a);
        top_v = pick(is_live, most(top_v, s->set_v[k]), top_v);
    }
    return top_v;
}

static void book(struct now *n, long t, lanes bus, lanes used, lanes *last_a)
{
    const struct study *s = n->s;
    const long el = s->consumers;
    const double dt = s->step_h;
    lanes lost_w = NONE, wanted_a = NONE, ac_w = NONE, loss_w = NONE, cable_w = NONE;
    for (long i = 0; i < n->live; i++) {
        lanes ohm = n->source_ohm[i], a = used * charger_a(n->set_v[i], ohm, n->limit_a[i], n->available_w[i], bus);
        s->source_w[t * s->sources + n->source[i]] = (bus + a * ohm) * a;
        lost_w += a * a * ohm;
        wanted_a += charger_a(bus + 1e6, ohm, n->limit_a[i], n->available_w[i], bus);
    }
    s->terms_wh[4] += lost_w * dt;
    s->wanted_a[t] = wanted_a;
    for (long j = 0; j < el; j++) {
        lanes duty = s->duty[t * el + j];
        s->missing_w[t * el + j] = duty * s->on_w[t * el + j];
        put(s->is_unserved + (t * el + j) * LANES, duty > 0.0);
        last_a[j] = NONE;
    }
    for (long i = 0; i < n->count; i++) {
        long at = t * el + n->member[i];
        mask on = n->duty[i] > 0.0;
        lanes a = consumer_a(n->kind[i], n->power_w[i], n->ohm[i], s->nominal_v, bus);
        lanes taken = n->duty[i] * most(bus - a * n->ohm[i], NONE) * a;
        lanes lacks = n->kind[i] == 0 ? n->duty[i] * n->power_w[i] - taken : NONE;
        lacks = pick(lacks > 1e-9 * n->power_w[i], lacks, NONE);
        s->consumer_w[at] = taken;
        ac_w += pick(on, s->ac_w[at], NONE), loss_w += pick(on, s->loss_w[at], NONE);
        cable_w += n->duty[i] * a * a * n->ohm[i];
        s->missing_w[at] = pick(on, lacks, s->missing_w[at]);
        unsigned char *off = s->is_unserved + at * LANES;
        put(off, (on & (lacks > 0.0)) | (~on & truths(off)));
        last_a[n->member[i]] = a;
    }
    s->terms_wh[0] += ac_w * dt, s->terms_wh[1] += loss_w * dt, s->terms_wh[4] += cable_w * dt;
}

extern "C" void study_lanes(struct study *s)
{
    const long el = s->consumers;
    const double dt = s->step_h;
    const lanes capacity = s->table_ah[s->points - 1];
    mask lock[MOST_CONSUMERS], cut = NO, open = NO, over = NO;
    lanes last_a[MOST_CONSUMERS], q = *s->start_ah, cell = *s->start_degc, guess = NONE, keep;
    for (int l = 0; l < LANES; l++) keep[l] = exp(-dt / (*s->lag_h)[l]);
    for (long j = 0; j < el; j++) lock[j] = NO, last_a[j] = NONE;
    struct now n;
    n.s = s, n.efficiency = *s->efficiency, n.lowest = lowest_piece(s, q, 0), n.at = piece_at(s, n.lowest, q);
    lanes last_v = table_value(&n, q);
    s->charge_ah[0] = q;
    for (long t = 0; t < s->steps; t++) {
        cut &= last_v < *s->close_v, open &= last_v < *s->reconnect_v, over &= last_v >= *s->charge_again_v;
        for (long j = 0; j < el; j++) lock[j] &= last_v - last_a[j] * s->path_ohm[j] < s->unlock_v[j];
        lanes doublings = most(25.0 - cell, NONE) / *s->doubling_k, factor = all(1.0);
        if (any(doublings > 0.0))
            for (int l = 0; l < LANES; l++) factor[l] = exp2(doublings[l]);
        n.battery_ohm = *s->resistance_ohm * factor;
        mask cold = (cell < *s->charge_min) | (cell > *s->charge_max), frozen = cell < *s->discharge_min;
        n.self_a = least(*s->self_a, q / dt);
        n.floor = capacity * least(*s->cold_loss_per_k * most(20.0 - cell, NONE), all(1.0));
        n.q = q, n.lowest = lowest_piece(s, q, n.lowest), n.at = piece_at(s, n.lowest, q);
        lanes full_a = most(capacity - q, NONE) / (n.efficiency * dt), top_v = gather_sources(&n, t);
        lanes amps = NONE, bus = NONE, used = NONE, end = q, rest_v = NONE, v_end = NONE;
        mask is_any = NO;
        for (long turn = 0; turn < 4 + 2 * el; turn++) {
            mask stopped = open | frozen, is_empty, is_long = gather(&n, t, ~stopped, lock, cut, &is_any);
            n.fixed_w = pick(stopped, NONE, s->standby_w[t]);
            lanes most_a = pick(cold | over, NONE, full_a);
            amps = solve(&n, guess, most_a, &bus, &used, &is_empty);
            end = least(most(charge_after(&n, amps), NONE), capacity);
            rest_v = table_value(&n, end);
            mask beyond = amps > 0.0;
            if (any(beyond)) beyond &= chargers_a(&n, rest_v) - taken_a(&n, rest_v) < 0.0;
            if (any(beyond)) {
                lanes level = level_at_balance(&n, end, beyond);
                lanes balanced_a = most(((level - q) / dt + n.self_a) / n.efficiency, NONE);
                amps = solve(&n, guess, pick(beyond, balanced_a, most_a), &bus, &used, &is_empty);
                end = least(most(charge_after(&n, amps), NONE), capacity);
                rest_v = table_value(&n, end);
            }
            v_end = rest_v + amps * n.battery_ohm;
            v_end = pick(amps > 0.0, least(v_end, most(top_v, rest_v)), v_end);
            lanes sag_v = v_end;
            if (any(~cut & is_long)) sag_v = pick(~cut & is_long, least(v_end, sagging_v(&n, rest_v, n.long_w)), v_end);
            mask overs = (amps > 0.0) & (v_end > *s->charge_max_v) & ~over, left = ~(stopped | overs), locked = NO;
            over |= overs;
            mask cuts = left & ~cut & ((sag_v < *s->open_v) | is_empty);
            left &= ~cuts;
            cut |= cuts;
            for (long i = 0; i < n.count; i++) {
                long j = n.member[i];
                mask limited = left & (n.duty[i] > 0.0) & (s->lock_v[j] > 0.0);
                if (!any(limited)) continue;
                lanes a = consumer_a(n.kind[i], n.power_w[i], n.ohm[i], s->nominal_v, v_end);
                mask low = limited & (v_end - a * n.ohm[i] < s->lock_v[j]);
                lock[j] |= low, locked |= low;
            }
            mask opens = left & ~locked & (is_empty | ((amps < 0.0) & ((v_end < *s->cutoff_v) | (-amps > *s->most_out_a))));
            open |= opens;
            if (!any(overs | cuts | locked | opens)) break;
        }
        book(&n, t, bus, used, last_a);
        lanes after = charge_after(&n, amps), open_v = table_mean(&n, q, after);
        s->terms_wh[2] += n.fixed_w * dt;
        s->terms_wh[5] += amps * amps * n.battery_ohm * dt;
        s->terms_wh[6] += open_v * (1.0 - n.efficiency) * most(amps, NONE) * dt;
        s->terms_wh[7] += open_v * n.self_a * dt;
        s->terms_wh[8] += open_v * (after - q);
        lanes peak_v = n.count > 0 ? pick(is_any, sagging_v(&n, rest_v, n.peak_w), rest_v) : rest_v;
        s->battery_v[t] = bus, s->end_v[t] = v_end, s->low_v[t] = least(v_end, peak_v), s->battery_a[t] = amps;
        s->peak_a[t] = most(most(-amps, (rest_v - peak_v) / n.battery_ohm), NONE), s->cell_degc[t] = cell;
        put(s->cut + t * LANES, cut), put(s->open + t * LANES, open | frozen), put(s->blocked + t * LANES, cold | over);
        cell = s->zone_degc[t] + (cell - s->zone_degc[t]) * keep;
        q = end, last_v = v_end, guess = amps;
        s->charge_ah[t + 1] = q;
    }
}
