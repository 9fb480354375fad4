/* The mark of the machine: the same flights in plain C at -O3.
 *
 * Adaptive Tsitouras 5(4), many flights side by side in arrays that the
 * compiler vectorises (`LANES` of them), each with its own step; a flight that
 * is over makes room for the next. With LANES 1 it is the loop that one writes
 * first. No sampling, no contact, no tally: a bare loop.
 *
 * FAMILY picks the equations: 0 sphere, 1 plate, 2 rod, 3 the plain plate of
 * the reference problem (fewer terms; see bench/src/bare.rs).
 */
#include <math.h>
#include <stdint.h>
#include <string.h>
#ifdef __AVX__
#include <immintrin.h>
#endif

#ifndef LANES
#define LANES 8
#endif
#ifndef FAMILY
#define FAMILY 1
#endif
#if FAMILY == 0
#define SIZE 6
#else
#define SIZE 13
#endif
#define RESULTS 6
#define COLUMNS 15
#define ALWAYS static inline __attribute__((always_inline))

/* A number of each flight in the block. */
#if LANES == 1
typedef double lane;
#define OF(x, l) (x)
#else
typedef double lane __attribute__((vector_size(8 * LANES)));
typedef int64_t mask __attribute__((vector_size(8 * LANES)));
#define OF(x, l) ((x)[l])
#endif

ALWAYS lane magnitude(lane x) {
#if LANES == 1
    return fabs(x);
#else
    return (lane)((mask)x & INT64_MAX);
#endif
}

/* `size` with the sign of `sign`. */
ALWAYS lane signed_as(double size, lane sign) {
#if LANES == 1
    return copysign(size, sign);
#else
    lane all = size - (lane){0};
    return (lane)(((mask)sign & INT64_MIN) | (mask)all);
#endif
}

ALWAYS lane root_of(lane x) {
#if LANES == 1
    return sqrt(x);
#elif defined(__AVX512F__)
    union { lane all; __m512d part[LANES / 8]; } u = {x};
    for (int i = 0; i < LANES / 8; i++) u.part[i] = _mm512_sqrt_pd(u.part[i]);
    return u.all;
#elif defined(__AVX__)
    union { lane all; __m256d part[LANES / 4]; } u = {x};
    for (int i = 0; i < LANES / 4; i++) u.part[i] = _mm256_sqrt_pd(u.part[i]);
    return u.all;
#else
    for (int l = 0; l < LANES; l++) x[l] = sqrt(x[l]);
    return x;
#endif
}

/* In the order of the tables in c_kernel.py. */
struct constants {
    double per_mass, weight, per_x, per_y, per_z, gyro_x, gyro_y, gyro_z;
    double model[24];
    double mass, inertia[3], plane, deadline, tolerance;
    double lowest, highest;
    int64_t first;
    const double (*cells)[4];
};

ALWAYS lane curve(const struct constants *c, lane x) {
    lane place, k[4];
    for (int l = 0; l < LANES; l++) {
        double at = OF(x, l);
        at = at < c->lowest ? c->lowest : at;
        at = at > c->highest ? c->highest : at;
        uint64_t bits;
        memcpy(&bits, &at, 8);
        int64_t cell = (int64_t)(bits >> 48) - ((1023 + c->first) << 4);
        bits = (bits & ((1ull << 48) - 1)) | (1023ull << 52);
        memcpy(&at, &bits, 8);
        OF(place, l) = (at - 1.0) * 16.0;
        for (int i = 0; i < 4; i++) OF(k[i], l) = c->cells[cell][i];
    }
    return ((k[3] * place + k[2]) * place + k[1]) * place + k[0];
}

struct vector {
    lane x, y, z;
};

/* v turned by the unit quaternion q, w. */
ALWAYS struct vector turned(struct vector v, struct vector q, lane w) {
    lane tx = 2.0 * (q.y * v.z - q.z * v.y);
    lane ty = 2.0 * (q.z * v.x - q.x * v.z);
    lane tz = 2.0 * (q.x * v.y - q.y * v.x);
    struct vector r = {v.x + w * tx + (q.y * tz - q.z * ty), v.y + w * ty + (q.z * tx - q.x * tz),
                       v.z + w * tz + (q.x * ty - q.y * tx)};
    return r;
}

#if FAMILY == 1
ALWAYS void load(const struct constants *c, struct vector u, struct vector w, struct vector *force,
                 struct vector *moment) {
    const double *m = c->model;
    double slope = m[0], per_stall = m[1], normal = m[2], face_on = m[3], lead_x = m[4];
    double lead_y = m[5], friction = m[6], edge_x = m[7], edge_y = m[8], tip_x = m[9];
    double tip_y = m[10], lift_x = m[11], lift_y = m[12], torque_x = m[13], torque_y = m[14];
    double roll_x = m[15], roll_y = m[16], spin = m[17], radius = m[18];
    lane xx = u.x * u.x, yy = u.y * u.y, zz = u.z * u.z;
    lane squared = xx + yy + zz, speed = root_of(squared), inverse = 1.0 / (squared + 1e-30);

    lane sine = u.z * speed * inverse, square = zz * inverse;
    lane arc = ((0.04 * square + 0.0446) * square + 0.075) * square;
    arc = (arc + 1.0 / 6.0) * square + 1.0;
    lane unstalled = sine * arc * slope, stalled = signed_as(face_on, sine);
    lane b = square * per_stall, b2 = b * b, b4 = b2 * b2, b8 = b4 * b4, weight = b8 * b4;
    lane pressure = -(normal * squared * (weight * stalled + unstalled) / (weight + 1.0));

    lane lead = root_of(xx + yy) / (squared + speed * magnitude(u.z) + 1e-30);
    lane ahead_x = lead_x * u.x * lead, ahead_y = lead_y * u.y * lead;
    lane skin = friction * speed;
    lane along_x = (edge_x * magnitude(u.x) + skin) * u.x, along_y = (edge_y * magnitude(u.y) + skin) * u.y;
    lane turn_x = lift_x * w.x, turn_y = lift_y * w.y;
    lane about_x = torque_x * (root_of(yy + zz) - tip_x * magnitude(w.x)) - roll_x * magnitude(u.x);
    lane about_y = torque_y * (root_of(xx + zz) - tip_y * magnitude(w.y)) - roll_y * magnitude(u.y);
    force->x = turn_y * u.z - along_x;
    force->y = -(turn_x * u.z + along_y);
    force->z = turn_x * u.y + pressure - turn_y * u.x;
    moment->x = ahead_y * pressure + about_x * w.x;
    moment->y = about_y * w.y - ahead_x * pressure;
    moment->z = -spin * (radius * magnitude(w.z) + speed) * w.z;
}
#elif FAMILY == 2
ALWAYS void load(const struct constants *c, struct vector u, struct vector w, struct vector *force,
                 struct vector *moment) {
    const double *m = c->model;
    double reynolds = m[0], across = m[1], strip = m[2], damping = m[3];
    double end = m[4], skin = m[5], nose = m[6], half = m[7];
    lane crossing = u.y * u.y + u.z * u.z;
    lane strips = strip * (w.y * w.y + w.z * w.z) + crossing + 1e-30;
    lane drag = across * curve(c, reynolds * root_of(strips));
    lane tip = nose * magnitude(u.x), lever = half * nose * u.x, sideways = drag + tip;
    lane axial = end * magnitude(u.x) + skin * root_of(u.x * u.x + crossing);
    lane aligned = (w.z * u.y - w.y * u.z) / strips, damp = drag * damping;
    force->x = -axial * u.x;
    force->y = -sideways * u.y;
    force->z = -sideways * u.z;
    moment->x = 0.0 * u.x;
    moment->y = lever * u.z - damp * (w.y - aligned * u.z);
    moment->z = -(lever * u.y + damp * (aligned * u.y + w.z));
}
#elif FAMILY == 3
ALWAYS void load(const struct constants *c, struct vector u, struct vector w, struct vector *force,
                 struct vector *moment) {
    const double *m = c->model;
    double normal = m[0], chord = m[1], damp_x = m[2], damp_y = m[3], damp_z = m[4];
    lane squared = u.x * u.x + u.y * u.y + u.z * u.z, speed = root_of(squared + 1e-30);
    lane sine = u.z / speed, s = magnitude(sine), s2 = s * s;
    lane s4 = s2 * s2, s8 = s4 * s4;
    lane coefficient = sine * (2.7 + 20.7 * s8) / (1.0 + 18.0 * s8 * s);
    lane pressure = -(normal * squared * coefficient);
    lane lead = chord * (1.0 - s) / speed;
    force->x = 0.0 * u.x;
    force->y = 0.0 * u.x;
    force->z = pressure;
    moment->x = lead * u.y * pressure - damp_x * speed * w.x;
    moment->y = -(lead * u.x * pressure) - damp_y * speed * w.y;
    moment->z = -(damp_z * speed * w.z);
}
#endif

/* Rates of change of one lane's state. */
ALWAYS void rate(const struct constants *c, lane wind_x, lane wind_y, const lane s[SIZE],
                 lane r[SIZE]) {
    struct vector relative = {s[3] - wind_x, s[4] - wind_y, s[5]};
#if FAMILY == 0
    lane speed = root_of(relative.x * relative.x + relative.y * relative.y + relative.z * relative.z);
    lane drag = -(c->model[1] * curve(c, c->model[0] * speed)) * c->per_mass;
    lane out[SIZE] = {s[3], s[4], s[5], drag * relative.x, drag * relative.y,
                        drag * relative.z - c->weight};
#else
    struct vector q = {s[6], s[7], s[8]}, w = {s[10], s[11], s[12]}, force, moment;
    load(c, turned(relative, q, -s[9]), w, &force, &moment);
    force.x *= c->per_mass;
    force.y *= c->per_mass;
    force.z *= c->per_mass;
    struct vector a = turned(force, q, s[9]);
    lane hx = 0.5 * w.x, hy = 0.5 * w.y, hz = 0.5 * w.z;
    lane out[SIZE] = {s[3],
                        s[4],
                        s[5],
                        a.x,
                        a.y,
                        a.z - c->weight,
                        s[9] * hx + s[7] * hz - s[8] * hy,
                        s[9] * hy + s[8] * hx - s[6] * hz,
                        s[9] * hz + s[6] * hy - s[7] * hx,
                        -(s[6] * hx + s[7] * hy + s[8] * hz),
                        moment.x * c->per_x + c->gyro_x * w.y * w.z,
                        moment.y * c->per_y + c->gyro_y * w.z * w.x,
                        moment.z * c->per_z + c->gyro_z * w.x * w.y};
#endif
    for (int i = 0; i < SIZE; i++) r[i] = out[i];
}

typedef lane rows[SIZE];

static const double WEIGHTS[7][6] = {
    {0},
    {0.161},
    {-0.008480655492356989, 0.335480655492357},
    {2.8971530571054935, -6.359448489975075, 4.3622954328695815},
    {5.325864828439257, -11.748883564062828, 7.4955393428898365, -0.09249506636175525},
    {5.86145544294642, -12.92096931784711, 8.159367898576159, -0.071584973281401,
     -0.028269050394068383},
    {0.09646076681806523, 0.01, 0.4798896504144996, 1.379008574103742, -3.290069515436081,
     2.324710524099774},
};
static const double ERROR[7] = {-0.001780011052225777, -0.0008164344596567469, 0.007880878010261995,
                                -0.1447110071732629,   0.5823571654525552,     -0.45808210592918697,
                                1.0 / 66.0};

struct block {
    rows y, y1, k[7];
    lane wind_x, wind_y, time, step, error;
};

ALWAYS void stage(const struct constants *c, struct block *b, const int n) {
    lane s[SIZE];
    for (int i = 0; i < SIZE; i++) {
        lane slope = WEIGHTS[n][0] * b->k[0][i];
        for (int j = 1; j < n; j++) slope += WEIGHTS[n][j] * b->k[j][i];
        s[i] = b->y[i] + b->step * slope;
    }
    rate(c, b->wind_x, b->wind_y, s, b->k[n]);
    if (n == 6) memcpy(b->y1, s, sizeof s);
}

/* Square of the error over what is allowed: as the engine measures it. */
ALWAYS void judge(const struct constants *c, struct block *b) {
    lane e[SIZE];
    for (int i = 0; i < SIZE; i++) {
        lane slope = ERROR[0] * b->k[0][i];
        for (int j = 1; j < 7; j++) slope += ERROR[j] * b->k[j][i];
        e[i] = slope * slope;
    }
    const lane *y = b->y1;
    lane sum = e[0] + e[1] + e[2];
    sum += (e[3] + e[4] + e[5]) / (1.0 + y[3] * y[3] + y[4] * y[4] + y[5] * y[5]);
#if SIZE == 13
    sum += e[6] + e[7] + e[8] + e[9];
    sum += (e[10] + e[11] + e[12]) / (1.0 + y[10] * y[10] + y[11] * y[11] + y[12] * y[12]);
#endif
    b->error = sum * b->step * b->step * (1.0 / (c->tolerance * c->tolerance));
}

static double cubic(double t, double h, double y0, double f0, double y1, double f1) {
    double s = 1.0 - t;
    return (1.0 + 2.0 * t) * s * s * y0 + t * s * s * h * f0 + t * t * (3.0 - 2.0 * t) * y1 -
           t * t * s * h * f1;
}

static double root(double h, double y0, double f0, double y1, double f1) {
    double low = 0.0, high = 1.0;
    for (int i = 0; i < 45; i++) {
        double middle = 0.5 * (low + high);
        if ((cubic(middle, h, y0, f0, y1, f1) > 0.0) == (y0 > 0.0))
            low = middle;
        else
            high = middle;
    }
    return high;
}

static void seat(const struct constants *c, struct block *b, int l, const double *draw) {
    for (int i = 0; i < SIZE; i++) OF(b->y[i], l) = draw[i];
    OF(b->wind_x, l) = draw[13];
    OF(b->wind_y, l) = draw[14];
    lane r[SIZE];
    rate(c, b->wind_x, b->wind_y, b->y, r);
    for (int i = 0; i < SIZE; i++) OF(b->k[0][i], l) = OF(r[i], l);
    OF(b->time, l) = 0.0;
    OF(b->step, l) = 1.0 / (50.0 + 2.0 * sqrt(draw[10] * draw[10] + draw[11] * draw[11] + draw[12] * draw[12]));
}

static void finish(const struct constants *c, const struct block *b, int l, const double *draw,
                   double first, double second, double *out) {
    double theta = first < second ? first : second, y[13];
    for (int i = SIZE; i < 13; i++) y[i] = draw[i];
    if (theta > 1.0) theta = 1.0;
    for (int i = 0; i < SIZE; i++)
        y[i] = cubic(theta, OF(b->step, l), OF(b->y[i], l), OF(b->k[0][i], l), OF(b->y1[i], l), OF(b->k[6][i], l));
    double energy = c->mass * (y[3] * y[3] + y[4] * y[4] + y[5] * y[5]);
    for (int i = 0; i < 3; i++) energy += c->inertia[i] * y[10 + i] * y[10 + i];
    out[0] = first <= 1.0 && first <= second ? 1.0 : second <= 1.0 ? 2.0 : 0.0;
    out[1] = OF(b->time, l) + theta * OF(b->step, l);
    out[2] = y[0];
    out[3] = y[1];
    out[4] = y[2];
    out[5] = 0.5 * energy;
}

/* Flies `count` draws; tells how many steps it tried. */
int64_t fly(const struct constants *c, const double (*draws)[COLUMNS], int64_t count,
            double (*results)[RESULTS]) {
    struct block b;
    int64_t who[LANES], next = 0, flying = 0, turns = 0;
    for (int l = 0; l < LANES; l++) {
        who[l] = next < count ? next : -1;
        seat(c, &b, l, draws[next < count ? next : 0]);
        next++;
        flying += who[l] >= 0;
    }
    next = next < count ? next : count;
    while (flying > 0) {
        turns += flying;
        stage(c, &b, 1);
        stage(c, &b, 2);
        stage(c, &b, 3);
        stage(c, &b, 4);
        stage(c, &b, 5);
        stage(c, &b, 6);
        judge(c, &b);
        lane keep, grow;
        for (int l = 0; l < LANES; l++) {
            OF(keep, l) = 0.0;
            OF(grow, l) = 1.0;
            if (who[l] < 0) continue;
            int taken = OF(b.error, l) <= 1.0;
            if (taken) {
                double first = 2.0, second = 2.0, h = OF(b.step, l);
                if (OF(b.y[0], l) < c->plane && OF(b.y1[0], l) >= c->plane)
                    first = root(h, OF(b.y[0], l) - c->plane, OF(b.k[0][0], l), OF(b.y1[0], l) - c->plane, OF(b.k[6][0], l));
                if (OF(b.y[2], l) > 0.0 && OF(b.y1[2], l) <= 0.0)
                    second = root(h, OF(b.y[2], l), OF(b.k[0][2], l), OF(b.y1[2], l), OF(b.k[6][2], l));
                if (first <= 1.0 || second <= 1.0 || OF(b.time, l) + h >= c->deadline) {
                    finish(c, &b, l, draws[who[l]], first, second, results[who[l]]);
                    who[l] = next < count ? next++ : -1;
                    flying -= who[l] < 0;
                    if (who[l] >= 0) seat(c, &b, l, draws[who[l]]);
                    continue;
                }
                OF(keep, l) = 1.0;
                OF(b.time, l) += h;
            }
            double error = OF(b.error, l) < 1e-12 ? 1e-12 : OF(b.error, l);
            double factor = 0.9 * exp2(-0.1 * log2(error));
            OF(grow, l) = factor < 0.2 ? 0.2 : factor > 5.0 ? 5.0 : factor;
        }
        for (int i = 0; i < SIZE; i++) {
#if LANES == 1
            b.y[i] = keep > 0.0 ? b.y1[i] : b.y[i];
            b.k[0][i] = keep > 0.0 ? b.k[6][i] : b.k[0][i];
#else
            mask take = keep > 0.0;
            b.y[i] = (lane)(((mask)b.y1[i] & take) | ((mask)b.y[i] & ~take));
            b.k[0][i] = (lane)(((mask)b.k[6][i] & take) | ((mask)b.k[0][i] & ~take));
#endif
        }
        for (int l = 0; l < LANES; l++) {
            double left = c->deadline - OF(b.time, l), step = OF(b.step, l) * OF(grow, l);
            OF(b.step, l) = step < left ? step : left;
        }
    }
    return turns;
}
