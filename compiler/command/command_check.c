#include "compiler/command/message.h"
#include "compiler/command/output.h"
#include "compiler/command/plan.h"
#include "compiler/command/progress.h"
#include "compiler/compilation.h"
#include "compiler/form/report_document.h"

#include <stdlib.h>
#include <unistd.h>

enum {
    THREADS = 64,    /* at most */
    FILES_AHEAD = 4, /* for each thread: what one long plan may keep waiting */
};

/* A plan that is compiled and waits for those named before it. Its memory then serves another one: the system
 * takes longer to give memory than a small plan to be compiled. */
struct compiled {
    struct prill_compilation *compilation;
    enum prill_status status;
    bool done;
};

/* A thread to a processor. Each takes the next plan and compiles it; then one of them, which has the turn,
 * takes all that are done into the document, in the order of the files. `lock` is for the first part, the
 * turn for the second. */
struct checking {
    const struct call *call;
    pthread_mutex_t lock;
    pthread_cond_t moved;
    int next;                /* operand to compile */
    int taken;               /* operands that are in the document */
    bool turn;               /* somebody has it */
    struct compiled *places; /* of operand i at i % ahead */
    int ahead;               /* how many operands may be compiled or in work beyond `taken` */
    struct progress progress;

    struct arena arena;
    struct report_document document;
    int readable; /* operands that have reports or could have */
    bool exhausted;
    enum prill_status status; /* the worst so far */
};

/* Adds reports or, for NULL, ends the document; once memory ran out, nothing more. */
static void document_extend(struct checking *checking, const struct reports *reports)
{
    jmp_buf exhausted;
    if (checking->exhausted)
        return;
    checking->arena.exhausted = &exhausted;
    if (setjmp(exhausted))
        checking->exhausted = true;
    else if (reports)
        report_document_add(&checking->document, reports);
    else
        report_document_end(&checking->document);
    checking->arena.exhausted = NULL;
}

/* Who has the lowest plan that is not taken in never waits, so that all go on. */
static void *work_on(void *given)
{
    struct checking *checking = given;
    const char **operands = checking->call->operands;
    struct prill_options options = plan_options(checking->call);
    if (checking->call->operand_count == 1)
        progress_watch(&checking->progress, &options);
    pthread_mutex_lock(&checking->lock);
    while (checking->next < checking->call->operand_count) {
        int operand = checking->next++;
        while (operand >= checking->taken + checking->ahead)
            pthread_cond_wait(&checking->moved, &checking->lock);
        pthread_mutex_unlock(&checking->lock);
        struct compiled *compiled = &checking->places[operand % checking->ahead], *first;
        compiled->status = plan_try(operands[operand], &options, &compiled->compilation);
        atomic_fetch_add(&checking->progress.files_done, 1);
        pthread_mutex_lock(&checking->lock);
        compiled->done = true;
        while (!checking->turn && (first = &checking->places[checking->taken % checking->ahead])->done) {
            checking->turn = true;
            pthread_mutex_unlock(&checking->lock);

            /* What kept a plan from being read is said in the order of the files, too. */
            checking->status = status_worst(checking->status, first->status);
            if (first->status == PRILL_SYSTEM_FAILED || first->status == PRILL_BAD_CALL) {
                progress_pause(&checking->progress);
                plan_complain(operands[checking->taken], &options, first->compilation);
                progress_resume();
            } else {
                checking->readable++;
                document_extend(checking, &first->compilation->reports);
                if (checking->call->values[OPTION_WARNINGS] &&
                    prill_count(first->compilation, PRILL_WARNING) > 0)
                    checking->status = status_worst(checking->status, PRILL_PLAN_HAS_ERRORS);
            }

            if (first->compilation && arena_total(&first->compilation->arena) > ARENA_KEPT) {
                prill_free(first->compilation); /* a long plan's memory would not be kept for the next one */
                first->compilation = NULL;
            }
            pthread_mutex_lock(&checking->lock);
            first->done = false;
            checking->turn = false;
            checking->taken++;
            pthread_cond_broadcast(&checking->moved);
        }
    }
    pthread_mutex_unlock(&checking->lock);
    return NULL;
}

/* The reports of all plans are one document; those plans that could not be read have said so. */
enum prill_status command_check(const struct call *call)
{
    if (!plans_fit(call))
        return PRILL_BAD_CALL;
    int wanted = call->operand_count < THREADS ? call->operand_count : THREADS;
    if (wanted > 1) { /* asking takes longer than one small plan is worth */
        long processors = sysconf(_SC_NPROCESSORS_ONLN);
        wanted = processors < 1 ? 1 : processors < wanted ? (int)processors : wanted;
    }
    const char *form = call->values[OPTION_AS] ? call->values[OPTION_AS] : "text";
    bool colour = output_coloured(STDOUT_FILENO, call->values[OPTION_COLOR]);
    struct checking checking = {.call = call,
                                .lock = PTHREAD_MUTEX_INITIALIZER,
                                .moved = PTHREAD_COND_INITIALIZER,
                                .ahead = wanted * FILES_AHEAD,
                                .status = PRILL_FINE};
    checking.places = calloc((size_t)checking.ahead, sizeof *checking.places);
    arena_init(&checking.arena, NULL);
    report_document_begin(&checking.document, &checking.arena, form, colour, PRILL_VERSION);
    /* This thread takes its part; those that the system refuses are missed by nobody. */
    if (checking.places) {
        pthread_t threads[THREADS];
        int begun = 0;
        progress_begin(&checking.progress, call->operand_count);
        while (begun + 1 < wanted && pthread_create(&threads[begun], NULL, work_on, &checking) == 0)
            begun++;
        work_on(&checking);
        while (begun > 0)
            pthread_join(threads[--begun], NULL);
        progress_end(&checking.progress);
    }
    if (checking.readable)
        document_extend(&checking, NULL);
    if (!checking.places || checking.exhausted) {
        message_print("there is not enough memory");
        checking.status = PRILL_SYSTEM_FAILED;
    } else if (checking.readable) {
        checking.status = status_worst(checking.status, output_print(buffer_string(&checking.document.text),
                                                                     checking.document.text.length));
    }
    arena_free(&checking.arena);
    for (int i = 0; checking.places && i < checking.ahead; i++)
        prill_free(checking.places[i].compilation);
    free(checking.places);
    return checking.status;
}
