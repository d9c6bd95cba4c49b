/* The energy step of energy/kernel.py in plain C, lithium without heater, shedding or refrigerator: the reference
   for its speed, by the same laws in the same order. */
#include <math.h>
#include <string.h>

enum { MOST_CONSUMERS = 16, MOST_ITERATIONS = 80 };

struct study {
    long points, consumers, sources, steps;
    const double *table_ah, *table_v, *slopes;
    double resistance_ohm, doubling_k, efficiency, self_a, cutoff_v, reconnect_v, most_out_a, discharge_min;
    double charge_max_v, charge_again_v, charge_min, charge_max, lag_h, nominal_v, open_v, close_v, step_h;
    double start_ah, start_degc, cold_loss_per_k;
    const long *kind, *row;
    const double *path_ohm, *lock_v, *unlock_v;
    const unsigned char *is_cut;
    const double *set_v, *source_ohm, *on_w, *duty, *peak_w, *long_w, *ac_w, *loss_w, *standby_w;
    const double *limit_a, *available_w, *zone_degc;
    double *charge_ah, *battery_v, *end_v, *low_v, *battery_a, *peak_a, *cell_degc, *wanted_a, *source_w;
    double *consumer_w, *missing_w;
    unsigned char *is_unserved, *cut, *open, *blocked;
    double *terms_wh;
};

struct now {
    const struct study *s;
    const double *limit_a, *available_w;
    long piece, count, member[MOST_CONSUMERS], kind[MOST_CONSUMERS];
    double power_w[MOST_CONSUMERS], duty[MOST_CONSUMERS], ohm[MOST_CONSUMERS];
    double peak_w[MOST_CONSUMERS], long_w[MOST_CONSUMERS];
    double q, floor, self_a, battery_ohm, fixed_w;
};

static inline double least(double a, double b) { return a < b ? a : b; }
static inline double most(double a, double b) { return a > b ? a : b; }

static inline long piece_of(const struct study *s, double x, long near)
{
    long i = near;
    while (i < s->points - 2 && x > s->table_ah[i + 1]) i++;
    while (i > 0 && x <= s->table_ah[i]) i--;
    return i;
}

static inline double table_value(const struct study *s, long near, double x)
{
    long i = piece_of(s, x, near);
    return s->table_v[i] + s->slopes[i] * (x - s->table_ah[i]);
}

static inline double table_mean(const struct study *s, long near, double x0, double x1)
{
    const double *x = s->table_ah, *y = s->table_v, *slope = s->slopes;
    double low = least(x0, x1), high = most(x0, x1);
    long i = piece_of(s, low, near), last = s->points - 2;
    if (high <= x[i + 1] || i == last) return y[i] + slope[i] * (0.5 * (low + high) - x[i]);
    double area = 0.5 * (y[i] + slope[i] * (low - x[i]) + y[i + 1]) * (x[i + 1] - low);
    for (i++; i < last && high > x[i + 1]; i++) area += 0.5 * (y[i] + y[i + 1]) * (x[i + 1] - x[i]);
    area += (y[i] + 0.5 * slope[i] * (high - x[i])) * (high - x[i]);
    return area / (high - low);
}

static inline double consumer_a(long kind, double on_w, double ohm, double nominal_v, double v)
{
    if (kind == 0) {
        double rest = v * v - 4.0 * ohm * on_w;
        return rest <= 0.0 ? 0.5 * v / ohm : 2.0 * on_w / (v + sqrt(rest));
    }
    if (kind == 1) {
        double wanted = on_w / nominal_v;
        return wanted * ohm < v ? wanted : v / ohm;
    }
    return v * on_w / (nominal_v * nominal_v + ohm * on_w);
}

static inline double charger_a(double set_v, double ohm, double limit_a, double available_w, double v)
{
    double by_power = 2.0 * available_w / (v + sqrt(v * v + 4.0 * ohm * available_w));
    return most(least(least((set_v - v) / ohm, limit_a), by_power), 0.0);
}

static inline double charge_after(const struct study *s, double q, double amps, double self_a)
{
    return q + (amps * (amps > 0.0 ? s->efficiency : 1.0) - self_a) * s->step_h;
}

static inline int is_live(const struct now *n, long k) { return n->limit_a[k] > 0.0 && n->available_w[k] > 0.0; }

static inline double chargers_a(const struct now *n, double v)
{
    double total = 0.0;
    for (long k = 0; k < n->s->sources; k++)
        if (is_live(n, k))
            total += charger_a(n->s->set_v[k], n->s->source_ohm[k], n->limit_a[k], n->available_w[k], v);
    return total;
}

static inline double taken_a(const struct now *n, double v)
{
    double total = 0.0;
    for (long i = 0; i < n->count; i++)
        total += n->duty[i] * consumer_a(n->kind[i], n->power_w[i], n->ohm[i], n->s->nominal_v, v);
    return total + n->fixed_w / v;
}

static inline double balance(const struct now *n, double amps, double *v, double *scale)
{
    double after = charge_after(n->s, n->q, amps, n->self_a);
    *v = most(table_mean(n->s, n->piece, n->q, after) + amps * n->battery_ohm, 0.25 * n->s->nominal_v);
    double given = chargers_a(n, *v), taken = taken_a(n, *v);
    *scale = given + taken + fabs(amps);
    return given - taken - amps;
}

static double solve(const struct now *n, double guess, double most_a, double *bus, double *used, int *is_empty)
{
    double hi = 0.0, noise = 0.0, v, scale;
    *used = 1.0;
    *is_empty = 0;
    for (long k = 0; k < n->s->sources; k++)
        if (is_live(n, k)) {
            hi += n->limit_a[k];
            noise = most(noise, 4e-16 * n->s->set_v[k] / n->s->source_ohm[k]);
        }
    if (hi > most_a) {
        hi = most_a;
        double rest = balance(n, hi, &v, &scale);
        if (rest >= 0.0) {
            double given = chargers_a(n, v);
            *bus = v;
            *used = given > 0.0 ? (given - rest) / given : 0.0;
            return hi;
        }
    }
    double lo = least(n->self_a - most(n->q - n->floor, 0.0) / n->s->step_h, 0.0);
    double x = least(most(guess, lo), hi), f = balance(n, x, &v, &scale), next = x + f;
    for (int turn = 0; turn < MOST_ITERATIONS; turn++) {
        if (fabs(f) <= 1e-13 * scale + noise) break;
        if (f > 0.0) lo = most(lo, x);
        else hi = least(hi, x);
        if (hi - lo <= 4e-16 * most(fabs(hi), fabs(lo))) break;
        if (!(lo < next && next < hi) || turn % 6 == 5) next = 0.5 * (lo + hi);
        double old_x = x, old_f = f;
        x = next;
        f = balance(n, x, &v, &scale);
        next = f != old_f ? x - f * (x - old_x) / (f - old_f) : 0.5 * (lo + hi);
    }
    *bus = v;
    *is_empty = f < -1e-9 * scale || v <= 0.25 * n->s->nominal_v;
    return x;
}

static double level_at_balance(const struct now *n, double lo, double hi)
{
    double low_gap = 0.0, high_gap = 0.0, middle = lo;
    int side = 0;
    for (int turn = 0; turn < MOST_ITERATIONS; turn++) {
        double rest_v = table_value(n->s, n->piece, middle);
        double gap = chargers_a(n, rest_v) - taken_a(n, rest_v);
        if (turn == 0) {
            low_gap = gap;
            middle = hi;
            continue;
        }
        if (gap > 0.0) {
            high_gap *= side > 0 ? 0.5 : 1.0;
            lo = middle, low_gap = gap, side = 1;
        } else {
            low_gap *= side < 0 ? 0.5 : 1.0;
            hi = middle, high_gap = gap, side = -1;
        }
        if (low_gap <= 0.0 || hi - lo <= 1e-12 * hi) break;
        middle = lo + (hi - lo) * least(most(low_gap / (low_gap - high_gap), 0.001), 0.999);
    }
    return lo;
}

static double sagging_v(const struct now *n, double rest_v, const double *power_w)
{
    double lo = 0.5 * rest_v, hi = rest_v, v = rest_v;
    for (int turn = 0; turn < 30; turn++) {
        double taken = n->fixed_w / v;
        for (long i = 0; i < n->count; i++)
            taken += consumer_a(n->kind[i], power_w[i], n->ohm[i], n->s->nominal_v, v);
        double gap = rest_v - n->battery_ohm * taken - v;
        if (fabs(gap) <= 1e-7 * rest_v) break;
        if (gap > 0.0) lo = v;
        else hi = v;
        double slope = n->battery_ohm * taken / v - 1.0;
        v = slope < 0.0 ? v - gap / slope : lo;
        if (!(lo < v && v < hi)) v = 0.5 * (lo + hi);
    }
    return v;
}

static int gather(struct now *n, long row, const unsigned char *lock, int is_cut)
{
    const struct study *s = n->s;
    int is_long = 0;
    n->count = 0;
    for (long j = 0; j < s->consumers; j++) {
        long at = row * s->consumers + j, i = n->count;
        if (s->duty[at] <= 0.0 || lock[j] || (is_cut && s->is_cut[j])) continue;
        double mean_w = s->duty[at] * s->on_w[at];
        n->member[i] = j, n->kind[i] = s->kind[j], n->power_w[i] = s->on_w[at], n->duty[i] = s->duty[at];
        n->ohm[i] = s->path_ohm[j], n->peak_w[i] = s->peak_w[at], n->long_w[i] = most(s->long_w[at], mean_w);
        is_long |= s->long_w[at] > mean_w;
        n->count++;
    }
    return is_long;
}

void study(struct study *s)
{
    const long el = s->consumers, src = s->sources;
    const double dt = s->step_h, capacity = s->table_ah[s->points - 1], keep = exp(-dt / s->lag_h);
    unsigned char lock[MOST_CONSUMERS] = {0};
    double last_a[MOST_CONSUMERS] = {0}, q = s->start_ah, cell = s->start_degc, guess = 0.0;
    double last_v = table_value(s, 0, q);
    int cut = 0, open = 0, over = 0;
    struct now n = {.s = s};
    s->charge_ah[0] = q;
    for (long t = 0; t < s->steps; t++) {
        const long row = s->row[t];
        cut = cut && last_v < s->close_v;
        open = open && last_v < s->reconnect_v;
        over = over && last_v >= s->charge_again_v;
        for (long j = 0; j < el; j++) lock[j] = lock[j] && last_v - last_a[j] * s->path_ohm[j] < s->unlock_v[j];
        n.battery_ohm = s->resistance_ohm * exp2(most(25.0 - cell, 0.0) / s->doubling_k);
        int cold = cell < s->charge_min || cell > s->charge_max, frozen = cell < s->discharge_min;
        n.self_a = least(s->self_a, q / dt);
        n.piece = piece_of(s, q, n.piece);
        n.floor = capacity * least(s->cold_loss_per_k * most(20.0 - cell, 0.0), 1.0);
        n.q = q, n.limit_a = s->limit_a + t * src, n.available_w = s->available_w + t * src;
        double full_a = most(capacity - q, 0.0) / (s->efficiency * dt), top_v = 0.0;
        for (long k = 0; k < src; k++) if (is_live(&n, k)) top_v = most(top_v, s->set_v[k]);
        double amps = 0.0, bus = 0.0, used = 1.0, end = q, rest_v = 0.0, v_end = 0.0;
        for (long turn = 0; turn < 4 + 2 * el; turn++) {
            int stopped = open || frozen, is_long = 0, is_empty;
            n.count = 0;
            if (!stopped) is_long = gather(&n, row, lock, cut);
            n.fixed_w = stopped ? 0.0 : s->standby_w[row];
            amps = solve(&n, guess, cold || over ? 0.0 : full_a, &bus, &used, &is_empty);
            end = least(most(charge_after(s, q, amps, n.self_a), 0.0), capacity);
            rest_v = table_value(s, n.piece, end);
            if (amps > 0.0 && chargers_a(&n, rest_v) - taken_a(&n, rest_v) < 0.0) {
                end = level_at_balance(&n, q, end);
                double most_a = most(((end - q) / dt + n.self_a) / s->efficiency, 0.0);
                amps = solve(&n, guess, most_a, &bus, &used, &is_empty);
                end = least(most(charge_after(s, q, amps, n.self_a), 0.0), capacity);
                rest_v = table_value(s, n.piece, end);
            }
            v_end = rest_v + amps * n.battery_ohm;
            if (amps > 0.0) v_end = least(v_end, most(top_v, rest_v));
            double sag_v = v_end;
            if (!cut && is_long) sag_v = least(v_end, sagging_v(&n, rest_v, n.long_w));
            if (amps > 0.0 && v_end > s->charge_max_v && !over) { over = 1; continue; }
            if (stopped) break;
            if (!cut && (sag_v < s->open_v || is_empty)) { cut = 1; continue; }
            int flipped = 0;
            for (long i = 0; i < n.count; i++) {
                double limit = s->lock_v[n.member[i]];
                if (limit <= 0.0) continue;
                double a = consumer_a(n.kind[i], n.power_w[i], n.ohm[i], s->nominal_v, v_end);
                if (v_end - a * n.ohm[i] < limit) lock[n.member[i]] = flipped = 1;
            }
            if (flipped) continue;
            if (is_empty || (amps < 0.0 && (v_end < s->cutoff_v || -amps > s->most_out_a))) { open = 1; continue; }
            break;
        }
        for (long k = 0; k < src; k++)
            if (is_live(&n, k)) {
                double ohm = s->source_ohm[k];
                double a = used * charger_a(s->set_v[k], ohm, n.limit_a[k], n.available_w[k], bus);
                s->source_w[t * src + k] = (bus + a * ohm) * a;
                s->terms_wh[4] += a * a * ohm * dt;
                s->wanted_a[t] += charger_a(bus + 1e6, ohm, n.limit_a[k], n.available_w[k], bus);
            }
        for (long j = 0; j < el; j++) {
            double duty = s->duty[row * el + j];
            s->missing_w[t * el + j] = duty * s->on_w[row * el + j];
            s->is_unserved[t * el + j] = duty > 0.0;
            last_a[j] = 0.0;
        }
        for (long i = 0; i < n.count; i++) {
            long at = t * el + n.member[i];
            double a = consumer_a(n.kind[i], n.power_w[i], n.ohm[i], s->nominal_v, bus);
            double taken = n.duty[i] * most(bus - a * n.ohm[i], 0.0) * a;
            double lacks = n.kind[i] == 0 ? n.duty[i] * n.power_w[i] - taken : 0.0;
            s->consumer_w[at] = taken;
            s->terms_wh[0] += s->ac_w[row * el + n.member[i]] * dt;
            s->terms_wh[1] += s->loss_w[row * el + n.member[i]] * dt;
            s->terms_wh[4] += n.duty[i] * a * a * n.ohm[i] * dt;
            s->missing_w[at] = lacks > 1e-9 * n.power_w[i] ? lacks : 0.0;
            s->is_unserved[at] = s->missing_w[at] > 0.0;
            last_a[n.member[i]] = a;
        }
        double after = charge_after(s, q, amps, n.self_a), open_v = table_mean(s, n.piece, q, after);
        s->terms_wh[2] += n.fixed_w * dt;
        s->terms_wh[5] += amps * amps * n.battery_ohm * dt;
        s->terms_wh[6] += open_v * (1.0 - s->efficiency) * most(amps, 0.0) * dt;
        s->terms_wh[7] += open_v * n.self_a * dt;
        s->terms_wh[8] += open_v * (after - q);
        double peak_v = n.count > 0 ? sagging_v(&n, rest_v, n.peak_w) : rest_v;
        s->battery_v[t] = bus, s->end_v[t] = v_end, s->low_v[t] = least(v_end, peak_v), s->battery_a[t] = amps;
        s->peak_a[t] = most(most(-amps, (rest_v - peak_v) / n.battery_ohm), 0.0), s->cell_degc[t] = cell;
        s->cut[t] = cut, s->open[t] = open || frozen, s->blocked[t] = cold || over;
        cell = s->zone_degc[t] + (cell - s->zone_degc[t]) * keep;
        q = end, last_v = v_end, guess = amps;
        s->charge_ah[t + 1] = q;
    }
}
