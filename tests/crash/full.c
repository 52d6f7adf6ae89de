/* A disk that is full while the file named by PLYTIDE_FULL exists: writes into PLYTIDE_WATCH get ENOSPC, as the kernel
 * gives it. Removing the file makes room again, without the process starting anew. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

static int full(int fd) {
    const char *flag = getenv("PLYTIDE_FULL"), *watch = getenv("PLYTIDE_WATCH");
    char link[64], path[4096];
    if (!flag || !watch || access(flag, F_OK)) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (n <= 0) return 0;
    path[n] = 0;
    if (strncmp(path, watch, strlen(watch)) || strstr(path, "-shm")) return 0;
    errno = ENOSPC;
    return 1;
}

#define WRITER(symbol, offset_type)                                           \
    ssize_t symbol(int fd, const void *data, size_t length, offset_type at) { \
        static ssize_t (*next)(int, const void *, size_t, offset_type);       \
        if (!next) next = dlsym(RTLD_NEXT, #symbol);                          \
        return full(fd) ? -1 : next(fd, data, length, at);                    \
    }
WRITER(pwrite, off_t)
WRITER(pwrite64, off64_t)

ssize_t write(int fd, const void *data, size_t length) {
    static ssize_t (*next)(int, const void *, size_t);
    if (!next) next = dlsym(RTLD_NEXT, "write");
    return full(fd) ? -1 : next(fd, data, length);
}
