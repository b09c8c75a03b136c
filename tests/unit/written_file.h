#ifndef PRILL_TESTS_WRITTEN_FILE_H
#define PRILL_TESTS_WRITTEN_FILE_H

/* Fails the test where the file cannot be written. */
void write_file(const char *path, const char *bytes);

#endif
