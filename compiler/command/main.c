/* The command line: finds the command, reads the call, and sees that what was printed has arrived. */
#include "compiler/command/command.h"
#include "compiler/command/message.h"
#include "compiler/command/output.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stddef.h>
#include <string.h>
#include <unistd.h>
#ifdef __GLIBC__
#include <malloc.h>
#endif

enum { NAMES = 32 };

/* The usual slips: the plan or an option before the command, a letter wrong. */
static enum prill_status complain_of_command(const char *name)
{
    const char *names[NAMES] = {NULL};
    int count = 0;
    for (const struct command *command = commands; command->name && count < NAMES - 1; command++)
        if (command->summary)
            names[count++] = command->name;
    const char *nearest = name_nearest(names, name);
    size_t length = strlen(name);
    if (length > 6 && strcmp(name + length - 6, ".prill") == 0)
        message_print("the command comes first: prill check %s", name);
    else if (name[0] == '-')
        message_print(
            "the command comes first: prill COMMAND [OPTION...] [PLAN...]; `prill help` lists them");
    else if (nearest)
        message_print("there is no command %s; did you mean %s?", name, nearest);
    else
        message_print("there is no command %s; `prill help` lists them", name);
    return PRILL_BAD_CALL;
}

/* Before anything is opened or written the streams are seen to; words without a command are answered by the
 * program itself. */
int main(int argc, char *argv[])
{
    /* A plan must not be opened under the number of a closed standard stream and then be written to. What is
     * opened instead fails on use, as the closed one would. */
    for (int descriptor = STDIN_FILENO; descriptor <= STDERR_FILENO; descriptor++)
        if (fcntl(descriptor, F_GETFD) < 0 && errno == EBADF)
            open("/dev/null", descriptor == STDIN_FILENO ? O_WRONLY : O_RDONLY);
#ifdef M_MMAP_THRESHOLD
    /* What an arena gives back goes to the system: left to itself, glibc keeps ever larger pieces. The few
     * small ones of an ordinary plan are left to the end of the process, which takes them all at once. */
    mallopt(M_MMAP_THRESHOLD, 1024 * 1024);
    mallopt(M_TRIM_THRESHOLD, 4 * 1024 * 1024);
    mallopt(M_TOP_PAD, 0);
#endif
    /* A reader that goes away, or a limit on the size of files, is an error of writing: no reason to die. */
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigaction(SIGPIPE, &ignore, NULL);
    sigaction(SIGXFSZ, &ignore, NULL);

    if (argc < 2) {
        message_print("a command is missing; `prill help` lists them");
        return PRILL_BAD_CALL;
    }
    const char *name = argv[1];
    struct call call;
    if (strcmp(name, "--help") == 0 || strcmp(name, "-h") == 0)
        return (int)help_print(NULL);
    if (strcmp(name, "--version") == 0) {
        static const char version[] = "prill " PRILL_VERSION "\n";
        return (int)output_print(version, sizeof version - 1);
    }
    const struct command *command = command_find(name);
    if (!command)
        return (int)complain_of_command(name);
    if (!call_read(&call, command, (const char **)(argv + 2), argc - 2))
        return PRILL_BAD_CALL;
    return (int)(call.values[OPTION_HELP] ? help_print(command) : command->run(&call));
}
