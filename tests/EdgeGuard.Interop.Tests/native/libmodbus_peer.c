/* An independent Modbus peer for the tests, on libmodbus (Debian package libmodbus-dev).
 *
 *   libmodbus-peer server-tcp                  unit 1, 200 items a table; prints its port; ends with its input
 *   libmodbus-peer server-rtu DEVICE BAUD      the same on a serial port; prints "up"
 *   libmodbus-peer client-tcp PORT UNIT        every function once; prints one line each
 *   libmodbus-peer client-rtu DEVICE BAUD UNIT
 *   libmodbus-peer bench PORT REGISTERS SECONDS PID   reads in turns; prints round trips a second and the
 *                                             processor time of one, its own and that of the server with this PID, in us
 *   libmodbus-peer pong REGISTERS              answers 12 bytes with as many as a read of registers has, no protocol; prints its port
 *   libmodbus-peer ping PORT REGISTERS SECONDS PID    the other side of that; prints the same
 *
 * Holding register a holds a, input register a holds 1000 + a, every third coil and every fifth discrete input is set.
 */
#include <errno.h>
#include <modbus/modbus.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum { ITEMS = 200 };

static void *end_with_input(void *unused) {
    char byte;
    while (read(0, &byte, 1) > 0) {
    }
    _exit(0);
    return unused;
}

static void fail(const char *what) {
    fprintf(stderr, "%s: %s\n", what, modbus_strerror(errno));
    exit(1);
}

static modbus_mapping_t *tables(void) {
    modbus_mapping_t *map = modbus_mapping_new(ITEMS, ITEMS, ITEMS, ITEMS);
    if (map == NULL) fail("mapping");
    for (int a = 0; a < ITEMS; a++) {
        map->tab_registers[a] = (uint16_t)a;
        map->tab_input_registers[a] = (uint16_t)(1000 + a);
        map->tab_bits[a] = a % 3 == 0;
        map->tab_input_bits[a] = a % 5 == 0;
    }
    return map;
}

/* Answers until the connection ends; what libmodbus cannot answer is not answered. */
static void serve(modbus_t *ctx, modbus_mapping_t *map) {
    uint8_t query[MODBUS_TCP_MAX_ADU_LENGTH];
    for (;;) {
        int length = modbus_receive(ctx, query);
        if (length > 0) {
            modbus_reply(ctx, query, length, map);
        } else if (length == -1 && errno != EMBBADCRC) {
            return;
        }
    }
}

static int serve_tcp(void) {
    modbus_t *ctx = modbus_new_tcp("127.0.0.1", 0);
    int listener = modbus_tcp_listen(ctx, 16);
    if (listener == -1) fail("listen");
    struct sockaddr_in bound;
    socklen_t size = sizeof bound;
    getsockname(listener, (struct sockaddr *)&bound, &size);
    printf("%d\n", ntohs(bound.sin_port));
    fflush(stdout);
    modbus_mapping_t *map = tables();
    while (modbus_tcp_accept(ctx, &listener) != -1) {
        serve(ctx, map);
        modbus_close(ctx);
    }
    return 0;
}

static modbus_t *rtu(const char *device, int baud, int unit) {
    modbus_t *ctx = modbus_new_rtu(device, baud, 'E', 8, 1);
    if (ctx == NULL || modbus_set_slave(ctx, unit) == -1 || modbus_connect(ctx) == -1) fail(device);
    return ctx;
}

static void serve_rtu(const char *device, int baud) {
    modbus_t *ctx = rtu(device, baud, 1);
    modbus_mapping_t *map = tables();
    printf("up\n");
    fflush(stdout);
    for (;;) {
        serve(ctx, map);
        usleep(1000);
    }
}

static void tell_words(const char *name, int rc, const uint16_t *words) {
    if (rc == -1) {
        printf("%s failed: %s\n", name, modbus_strerror(errno));
        return;
    }
    printf("%s", name);
    for (int i = 0; i < rc; i++) printf(" %u", words[i]);
    printf("\n");
}

static void tell_bits(const char *name, int rc, const uint8_t *bits) {
    uint16_t words[16];
    for (int i = 0; i < rc; i++) words[i] = bits[i];
    tell_words(name, rc, words);
}

static void tell(const char *name, int rc) {
    if (rc == -1) printf("%s failed: %s\n", name, modbus_strerror(errno));
    else printf("%s ok\n", name);
}

static int ask(modbus_t *ctx) {
    uint16_t words[16];
    uint8_t bits[16];
    const uint16_t some[3] = {0xBEEF, 1, 0xFFFF};
    const uint8_t pattern[3] = {1, 0, 1};
    modbus_set_response_timeout(ctx, 2, 0);
    tell_bits("01", modbus_read_bits(ctx, 3, 4, bits), bits);
    tell_bits("02", modbus_read_input_bits(ctx, 9, 3, bits), bits);
    tell_words("03", modbus_read_registers(ctx, 20, 3, words), words);
    tell_words("04", modbus_read_input_registers(ctx, 30, 3, words), words);
    tell("05", modbus_write_bit(ctx, 3, 0));
    tell("06", modbus_write_register(ctx, 20, 777));
    tell("0F", modbus_write_bits(ctx, 4, 3, pattern));
    tell("10", modbus_write_registers(ctx, 21, 3, some));
    tell("16", modbus_mask_write_register(ctx, 25, 0xF2, 0x25));
    tell_words("17", modbus_write_and_read_registers(ctx, 26, 1, some, 20, 7, words), words);
    tell_bits("01", modbus_read_bits(ctx, 3, 4, bits), bits);
    tell_words("03", modbus_read_registers(ctx, 199, 2, words), words);
    modbus_close(ctx);
    return 0;
}

static modbus_t *tcp(int port) {
    modbus_t *ctx = modbus_new_tcp("127.0.0.1", port);
    if (ctx == NULL || modbus_connect(ctx) == -1) fail("connect");
    return ctx;
}

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static double own_seconds(void) {
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_utime.tv_sec + (double)usage.ru_stime.tv_sec
        + (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) * 1e-6;
}

/* Processor time of another process, all its threads: fields 14 and 15 of /proc/PID/stat, in ticks. */
static double other_seconds(const char *pid) {
    char path[64], line[1024];
    unsigned long user = 0, system = 0;
    snprintf(path, sizeof path, "/proc/%s/stat", pid);
    FILE *file = fopen(path, "r");
    if (file == NULL || fgets(line, sizeof line, file) == NULL) fail(path);
    fclose(file);
    sscanf(strrchr(line, ')') + 2, "%*c %*d %*d %*d %*d %*d %*u %*u %*u %*u %*u %lu %lu", &user, &system);
    return (double)(user + system) / (double)sysconf(_SC_CLK_TCK);
}

/* Runs batches of round trips, a fifth of the time to warm up, and tells what one costs. */
static int measure(void (*batch)(void *), void *state, int size, double seconds, const char *pid) {
    long count = 0;
    for (double end = now() + seconds / 5; now() < end;) batch(state);
    double own = own_seconds(), other = other_seconds(pid), begun = now();
    while (now() < begun + seconds) {
        batch(state);
        count += size;
    }
    double elapsed = now() - begun;
    printf("%.0f %.3f %.3f\n", (double)count / elapsed, (own_seconds() - own) * 1e6 / (double)count,
        (other_seconds(pid) - other) * 1e6 / (double)count);
    return 0;
}

enum { BATCH = 64 };

struct load {
    modbus_t *ctx;
    int fd;
    int registers;
};

static void read_batch(void *state) {
    struct load *load = state;
    uint16_t words[MODBUS_MAX_READ_REGISTERS];
    for (int i = 0; i < BATCH; i++) {
        if (modbus_read_registers(load->ctx, 0, load->registers, words) != load->registers) fail("read");
    }
}

static int bench(int port, int registers, double seconds, const char *pid) {
    struct load load = {.ctx = tcp(port), .registers = registers};
    modbus_set_slave(load.ctx, 1);
    return measure(read_batch, &load, BATCH, seconds, pid);
}

/* What the sockets alone cost: the same bytes as a read of registers, blocking, no protocol. */
static int exactly(int fd, uint8_t *bytes, size_t size) {
    for (size_t have = 0; have < size;) {
        ssize_t got = recv(fd, bytes + have, size - have, 0);
        if (got <= 0) return 0;
        have += (size_t)got;
    }
    return 1;
}

static void no_delay(int fd) {
    int on = 1;
    setsockopt(fd, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
}

static void pong(int registers) {
    uint8_t bytes[512] = {0};
    struct sockaddr_in at = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    socklen_t size = sizeof at;
    int listener = socket(AF_INET, SOCK_STREAM, 0);
    if (bind(listener, (struct sockaddr *)&at, size) != 0 || listen(listener, 16) != 0) fail("listen");
    getsockname(listener, (struct sockaddr *)&at, &size);
    printf("%d\n", ntohs(at.sin_port));
    fflush(stdout);
    for (;;) {
        int fd = accept(listener, NULL, NULL);
        no_delay(fd);
        while (exactly(fd, bytes, 12)) {
            if (send(fd, bytes, (size_t)(9 + 2 * registers), MSG_NOSIGNAL) < 0) break;
        }
        close(fd);
    }
}

static void ping_batch(void *state) {
    struct load *load = state;
    uint8_t bytes[512] = {0};
    for (int i = 0; i < BATCH; i++) {
        if (send(load->fd, bytes, 12, MSG_NOSIGNAL) != 12 || !exactly(load->fd, bytes, (size_t)(9 + 2 * load->registers))) fail("ping");
    }
}

static int ping(int port, int registers, double seconds, const char *pid) {
    struct sockaddr_in at = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK), .sin_port = htons((uint16_t)port)};
    struct load load = {.fd = socket(AF_INET, SOCK_STREAM, 0), .registers = registers};
    if (connect(load.fd, (struct sockaddr *)&at, sizeof at) != 0) fail("connect");
    no_delay(load.fd);
    return measure(ping_batch, &load, BATCH, seconds, pid);
}

int main(int argc, char **argv) {
    const char *mode = argc > 1 ? argv[1] : "";
    if (strncmp(mode, "server", 6) == 0 || strcmp(mode, "pong") == 0) {
        pthread_t thread;
        pthread_create(&thread, NULL, end_with_input, NULL);
    }
    if (strcmp(mode, "server-tcp") == 0) return serve_tcp();
    if (strcmp(mode, "server-rtu") == 0 && argc == 4) serve_rtu(argv[2], atoi(argv[3]));
    if (strcmp(mode, "client-tcp") == 0 && argc == 4) {
        modbus_t *ctx = tcp(atoi(argv[2]));
        modbus_set_slave(ctx, atoi(argv[3]));
        return ask(ctx);
    }
    if (strcmp(mode, "client-rtu") == 0 && argc == 5) return ask(rtu(argv[2], atoi(argv[3]), atoi(argv[4])));
    if (strcmp(mode, "bench") == 0 && argc == 6) return bench(atoi(argv[2]), atoi(argv[3]), atof(argv[4]), argv[5]);
    if (strcmp(mode, "pong") == 0 && argc == 3) pong(atoi(argv[2]));
    if (strcmp(mode, "ping") == 0 && argc == 6) return ping(atoi(argv[2]), atoi(argv[3]), atof(argv[4]), argv[5]);
    fprintf(stderr, "usage: see the head of the source\n");
    return 64;
}
