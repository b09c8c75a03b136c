/* A client as a stranger would write it, in C or in C++: compiles a plan in several threads at once, gives
 * its files from memory, looks at each report, asks for every result in every form, and edits a document.
 * tests/install builds it against what `make install` left. */
#include <prill.h>

#include <pthread.h>
#include <stdio.h>
#include <string.h>

enum { THREADS = 4 }; /* unless the first argument says how many; at most that many */

static const char PLAN[] = "plan \"The green behind the library\"\n"
                           "season 2027-03-01 to 2027-11-20\n"
                           "use \"shop.prill\"\n"
                           "lawn green { zone north area 1000 sqft }\n"
                           "correct soil { to green, need 0.8 lb N per 1000 sqft, from starter, urea\n"
                           "    add up to 2 times between May 1 and Jun 30 }\n";

static const char SHOP[] =
    "product starter { grade 14-20-10 granular, slow 30% of N, label 2 to 6 lb per 1000 sqft }\n"
    "product urea { grade 46-0-0 granular, label 0.5 to 2 lb per 1000 sqft }\n";

/* What a thread counts; all threads must count the same. */
struct count {
    size_t results, bytes, reports;
    int wrong;
};

/* The editor's side: what it has open, and nothing from the disk. */
static const char *open_file(void *reader, const char *path, size_t *length)
{
    (void)reader;
    const char *text = strcmp(path, "green.prill") == 0  ? PLAN
                       : strcmp(path, "shop.prill") == 0 ? SHOP
                                                         : NULL;
    *length = text ? strlen(text) : 0;
    return text;
}

static struct prill_options usual(void)
{
    struct prill_options options;
    memset(&options, 0, sizeof options);
    options.size = sizeof options;
    options.read_file = open_file;
    options.sealed = true;
    return options;
}

static void count_results(struct prill_compilation *compilation, struct count *count)
{
    for (size_t i = 0; prill_result_name(i); i++)
        for (size_t j = 0; prill_result_form(prill_result_name(i), j); j++) {
            size_t length = 0;
            const char *name = prill_result_name(i), *form = prill_result_form(name, j);
            const char *subject = strcmp(name, "day") == 0 ? "2027-04-17" : "north";
            const char *text = prill_result(compilation, name, form, subject, &length);
            count->results++;
            count->bytes += length;
            count->wrong += !text || strlen(text) != length;
        }
}

static void count_reports(struct prill_compilation *compilation, struct count *count)
{
    for (const struct prill_report *report = NULL; (report = prill_report_after(compilation, report));) {
        count->reports++;
        count->wrong += !report->check || !report->sentence || report->place.from.line == 0;
    }
}

/* As an editor goes on: a letter that breaks a word, and the same letter taken out again. */
static void edit(struct prill_compilation *compilation, struct count *count)
{
    struct prill_options options = usual();
    struct prill_document *document = NULL;
    size_t length = 0, edited_length = 0;
    options.day = "2027-05-10";
    options.text = PLAN;
    options.text_length = strlen(PLAN);
    count->wrong += prill_document_open("green.prill", &options, &document) != PRILL_FINE;
    count->wrong += prill_status(prill_document_compilation(document)) != PRILL_FINE;
    count->wrong += prill_document_edit(document, 0, 0, "x", 1) != PRILL_FINE;
    count->wrong += prill_status(prill_document_compilation(document)) != PRILL_PLAN_HAS_ERRORS;
    count_reports(prill_document_compilation(document), count);
    count->wrong += prill_document_edit(document, 0, 1, NULL, 0) != PRILL_FINE;
    const char *text = prill_result(compilation, "calendar", "json", NULL, &length);
    const char *edited =
        prill_result(prill_document_compilation(document), "calendar", "json", NULL, &edited_length);
    count->wrong += !text || !edited || length != edited_length || memcmp(text, edited, length) != 0;
    prill_document_close(document);
}

static void *work(void *task)
{
    struct count *count = (struct count *)task;
    struct prill_options options = usual();
    struct prill_compilation *compilation = NULL, *late = NULL, *bad = NULL;
    options.day = "2027-05-10";
    count->wrong += prill_compile("green.prill", &options, &compilation) != PRILL_FINE;
    count_results(compilation, count);
    count_reports(compilation, count);
    edit(compilation, count);

    options.late = "soil";
    options.late_day = "2027-06-01";
    prill_compile("green.prill", &options, &late);
    prill_late(compilation, late, NULL);
    count->wrong += !prill_compare(compilation, compilation, "text", NULL);

    options = usual();
    options.text = "lawm green { zone north are 1,000 sqft }\n";
    options.text_length = strlen(options.text);
    count->wrong += prill_compile("bad.prill", &options, &bad) != PRILL_PLAN_HAS_ERRORS;
    count->wrong += prill_count(bad, PRILL_ERROR) == 0 || prill_result(bad, "calendar", "text", NULL, NULL);
    count_reports(bad, count);
    prill_free(bad);
    prill_free(late);
    prill_free(compilation);
    return NULL;
}

int main(int argc, char *argv[])
{
    int count = argc > 1 && argv[1][0] >= '1' && argv[1][0] <= '0' + THREADS ? argv[1][0] - '0' : THREADS;
    char version[40];
    pthread_t threads[THREADS];
    struct count counts[THREADS];
    int wrong = 0;
    snprintf(version, sizeof version, "%d.%d.%d", PRILL_VERSION_MAJOR, PRILL_VERSION_MINOR,
             PRILL_VERSION_PATCH);
    memset(counts, 0, sizeof counts);
    for (int i = 0; i < count; i++)
        if (pthread_create(&threads[i], NULL, work, &counts[i]))
            return 3;
    for (int i = 0; i < count; i++)
        pthread_join(threads[i], NULL);
    for (int i = 0; i < count; i++)
        wrong += counts[i].wrong || counts[i].results == 0 || counts[i].reports == 0 ||
                 memcmp(&counts[i], &counts[0], sizeof counts[0]) != 0;
    prill_free(NULL);
    wrong += strcmp(version, prill_version()) != 0;
    printf("%s: %zu results, %zu bytes and %zu reports in each of %d threads; %d wrong\n", prill_version(),
           counts[0].results, counts[0].bytes, counts[0].reports, count, wrong);
    return wrong != 0;
}
