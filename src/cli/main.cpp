#include "cli/run.h"

int main(int count, char** words) { return trivet::run(count, words); }
