/* The fused multiply-add peak of one core, in f64: independent chains of the
 * widest registers, nothing else. Prints GFLOP/s (a fused one counts as two).
 */
#include <stdio.h>
#include <time.h>

#ifdef __AVX512F__
#define WIDTH 8
#elif defined(__AVX__)
#define WIDTH 4
#else
#define WIDTH 2
#endif
#define CHAINS 12
typedef double lane __attribute__((vector_size(8 * WIDTH)));

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(void) {
    double best = 0.0, sink = 0.0;
    for (int again = 0; again < 5; again++) {
        lane a[CHAINS], x = {0}, y = {0};
        for (int i = 0; i < WIDTH; i++) x[i] = 0.999999, y[i] = 1e-9;
        for (int i = 0; i < CHAINS; i++) a[i] = x + i;
        long turns = 10000000;
        double start = now();
        for (long t = 0; t < turns; t++) {
#pragma GCC unroll 12
            for (int i = 0; i < CHAINS; i++) {
                a[i] = a[i] * x + y;
                __asm__ volatile("" : "+v"(a[i]));
            }
        }
        double rate = 2.0 * WIDTH * CHAINS * turns / (now() - start) * 1e-9;
        for (int i = 0; i < CHAINS; i++) sink += a[i][0];
        best = rate > best ? rate : best;
    }
    printf("%.2f\n", best);
    return sink == 0.125;
}
