/* Writes down, in order, everything a process does to the files of one folder: what it writes and when it syncs.
 *
 * Preloaded into a process whose database lies in PLYTIDE_WATCH; the record goes to PLYTIDE_RECORD. replay.py then
 * plays power cuts: everything that was synced is on the disk, anything that was not may be missing, torn or
 * reordered. Each record is a line of text, followed by the bytes for a write:
 *     w FILE OFFSET LENGTH \n bytes    t FILE LENGTH    s FILE    u FILE    r FILE FILE
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

#define FDS 4096
#define PATH 1024

static char *name_of[FDS];
static int record = -1;
static const char *watch;
static size_t watch_len;
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;

static void *real(const char *symbol) { return dlsym(RTLD_NEXT, symbol); }

static void raw(const char *data, size_t length) {
    static ssize_t (*next)(int, const void *, size_t);
    if (!next) next = real("write");
    while (length) {
        ssize_t done = next(record, data, length);
        if (done <= 0) abort();
        data += done;
        length -= (size_t)done;
    }
}

__attribute__((constructor)) static void begin(void) {
    static int (*next)(const char *, int, ...);
    watch = getenv("PLYTIDE_WATCH");
    const char *out = getenv("PLYTIDE_RECORD");
    if (!watch || !out) return;
    watch_len = strlen(watch);
    next = real("open");
    record = next(out, O_WRONLY | O_CREAT | O_APPEND, 0600);
}

/* The name inside the watched folder, or NULL. */
static const char *inside(const char *path) {
    if (record < 0 || !path || strncmp(path, watch, watch_len) || path[watch_len] != '/') return NULL;
    return path + watch_len + 1;
}

static int opened(int fd, const char *path) {
    const char *name = inside(path);
    if (fd >= 0 && fd < FDS) {
        free(name_of[fd]);
        name_of[fd] = name ? strdup(name) : NULL;
    }
    return fd;
}

static const char *watched(int fd) { return record >= 0 && fd >= 0 && fd < FDS ? name_of[fd] : NULL; }

#define OPENER(symbol)                                                   \
    int symbol(const char *path, int flags, ...) {                       \
        static int (*next)(const char *, int, ...);                      \
        if (!next) next = real(#symbol);                                 \
        va_list rest;                                                    \
        va_start(rest, flags);                                           \
        int mode = flags & O_CREAT ? va_arg(rest, int) : 0;              \
        va_end(rest);                                                    \
        return opened(next(path, flags, mode), path);                    \
    }
OPENER(open)
OPENER(open64)

static void wrote(const char *name, const void *data, size_t length, off64_t at) {
    char head[PATH + 64];
    int n = snprintf(head, sizeof head, "w %s %lld %zu\n", name, (long long)at, length);
    pthread_mutex_lock(&lock);
    raw(head, (size_t)n);
    raw(data, length);
    pthread_mutex_unlock(&lock);
}

#define PWRITER(symbol, offset_type)                                                \
    ssize_t symbol(int fd, const void *data, size_t length, offset_type at) {       \
        static ssize_t (*next)(int, const void *, size_t, offset_type);             \
        if (!next) next = real(#symbol);                                            \
        ssize_t done = next(fd, data, length, at);                                  \
        if (done > 0 && watched(fd)) wrote(watched(fd), data, (size_t)done, at);    \
        return done;                                                                \
    }
PWRITER(pwrite, off_t)
PWRITER(pwrite64, off64_t)

ssize_t write(int fd, const void *data, size_t length) {
    static ssize_t (*next)(int, const void *, size_t);
    if (!next) next = real("write");
    const char *name = watched(fd);
    off64_t at = name ? lseek64(fd, 0, SEEK_CUR) : 0;
    ssize_t done = next(fd, data, length);
    if (done > 0 && name) wrote(name, data, (size_t)done, at);
    return done;
}

static void told(const char *form, const char *name, long long number) {
    char head[PATH + 64];
    int n = snprintf(head, sizeof head, form, name, number);
    pthread_mutex_lock(&lock);
    raw(head, (size_t)n);
    pthread_mutex_unlock(&lock);
}

#define TRUNCATER(symbol, offset_type)                                                   \
    int symbol(int fd, offset_type length) {                                             \
        static int (*next)(int, offset_type);                                            \
        if (!next) next = real(#symbol);                                                 \
        int answer = next(fd, length);                                                   \
        if (!answer && watched(fd)) told("t %s %lld\n", watched(fd), (long long)length); \
        return answer;                                                                   \
    }
TRUNCATER(ftruncate, off_t)
TRUNCATER(ftruncate64, off64_t)

#define SYNCER(symbol)                                            \
    int symbol(int fd) {                                          \
        static int (*next)(int);                                  \
        if (!next) next = real(#symbol);                          \
        int answer = next(fd);                                    \
        if (!answer && watched(fd)) told("s %s\n", watched(fd), 0); \
        return answer;                                            \
    }
SYNCER(fsync)
SYNCER(fdatasync)

int unlink(const char *path) {
    static int (*next)(const char *);
    if (!next) next = real("unlink");
    int answer = next(path);
    if (!answer && inside(path)) told("u %s\n", inside(path), 0);
    return answer;
}
