/* A client as a stranger would write it: compiles a plan in two threads at once and asks for what there is.
 */
#include <prill.h>

#include <pthread.h>
#include <stdio.h>
#include <string.h>

static const char PLAN[] =
    "plan \"The green behind the library\"\n"
    "season 2027-03-01 to 2027-11-20\n"
    "lawn green { zone north area 1000 sqft }\n"
    "product starter { grade 14-20-10 granular, slow 30% of N, label 2 to 6 lb per 1000 sqft }\n"
    "product urea { grade 46-0-0 granular, label 0.5 to 2 lb per 1000 sqft }\n"
    "correct soil { to green, need 0.8 lb N per 1000 sqft, from starter, urea\n"
    "    add up to 2 times between May 1 and Jun 30 }\n";

/* Every result in every form; the number of those that came, through *task. */
static void *ask(void *task)
{
    size_t *came = (size_t *)task;
    struct prill_compilation *compilation = NULL;
    if (prill_compile_text("green.prill", PLAN, sizeof PLAN - 1, true, &compilation) == PRILL_FINE)
        for (size_t i = 0; prill_result_name(i); i++)
            for (size_t j = 0; prill_result_form(prill_result_name(i), j); j++) {
                size_t length = 0;
                const char *text = prill_result(compilation, prill_result_name(i),
                                                prill_result_form(prill_result_name(i), j), "north", &length);
                *came += text && length && strlen(text) == length;
            }
    prill_free(compilation);
    return NULL;
}

int main(void)
{
    char version[40];
    snprintf(version, sizeof version, "%d.%d.%d", PRILL_VERSION_MAJOR, PRILL_VERSION_MINOR,
             PRILL_VERSION_PATCH);
    pthread_t threads[2];
    size_t came[2] = {0, 0};
    for (int i = 0; i < 2; i++)
        if (pthread_create(&threads[i], NULL, ask, &came[i]))
            return 3;
    for (int i = 0; i < 2; i++)
        pthread_join(threads[i], NULL);
    prill_free(NULL);
    printf("%s: %zu and %zu results\n", prill_version(), came[0], came[1]);
    return came[0] == 0 || came[0] != came[1] || strcmp(version, prill_version()) != 0;
}
