/* The radial sweep of network/kernel.py in plain C: the reference for its speed, by the same steps. */
#include <math.h>

enum { MOST_ITERATIONS = 100 };

static int folded_step(long n, const long *parent, const double *r, double *a, double *y, double source_v, double *v)
{
    for (long k = n - 1; k > 0; k--) {
        double pivot = 1.0 + r[k] * y[k];
        if (!(pivot > 0.0)) return 0;
        a[parent[k]] += a[k] / pivot;
        y[parent[k]] += y[k] / pivot;
    }
    v[0] = source_v;
    for (long k = 1; k < n; k++) {
        v[k] = (v[parent[k]] - r[k] * a[k]) / (1.0 + r[k] * y[k]);
        if (!(v[k] > 0.0)) return 0;
    }
    return 1;
}

static double residual_v(long n, const long *parent, const double *r, const double *p, const double *i,
                         const double *g, const double *v, double *branch)
{
    double worst = 0.0;
    for (long k = 0; k < n; k++) branch[k] = p[k] / v[k] + i[k] + g[k] * v[k];
    for (long k = n - 1; k > 0; k--) {
        branch[parent[k]] += branch[k];
        double left = fabs(v[parent[k]] - v[k] - r[k] * branch[k]);
        if (left > worst) worst = left;
    }
    return worst;
}

static int is_upper(long n, const long *parent, const double *r, double *y)
{
    for (long k = n - 1; k > 0; k--) {
        double pivot = 1.0 + r[k] * y[k];
        if (!(pivot > 0.0)) return 0;
        y[parent[k]] += y[k] / pivot;
    }
    return 1;
}

/* Solves the same tree `repeats` times; a, y are scratch; returns 1 where the last answer is the upper one. */
int solve(long repeats, long n, const long *parent, const double *r, const double *p, const double *i,
          const double *g, double source_v, double *v, double *a, double *y, double *branch)
{
    int is_found = 0;
    for (long turn = 0; turn < repeats; turn++) {
        double left_v = INFINITY;
        for (long k = 0; k < n; k++) {
            a[k] = i[k] + (p[k] < 0.0 ? p[k] : 0.0) / source_v;
            y[k] = g[k];
        }
        int is_stable = folded_step(n, parent, r, a, y, source_v, v);
        for (int step = 0; is_stable && step < MOST_ITERATIONS; step++) {
            for (long k = 0; k < n; k++) {
                a[k] = i[k] + 2.0 * p[k] / v[k];
                y[k] = g[k] - p[k] / (v[k] * v[k]);
            }
            is_stable = folded_step(n, parent, r, a, y, source_v, v);
            if (is_stable) left_v = residual_v(n, parent, r, p, i, g, v, branch);
            if (left_v <= 1e-12 * source_v) break;
        }
        is_found = is_stable && left_v <= 1e-9;
        if (is_found) {
            for (long k = 0; k < n; k++) y[k] = g[k] - p[k] / (v[k] * v[k]);
            is_found = is_upper(n, parent, r, y);
        }
    }
    return is_found;
}
