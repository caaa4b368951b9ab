# SPDX-License-Identifier: MIT
# Read by cpack where the package is for newer processors only.
message(WARNING "This package needs a processor of the kind ${CPACK_DISHWRIGHT_PROCESSOR}. For one that runs on any x86-64 "
  "processor, configure a folder with -DDISHWRIGHT_PROCESSOR=x86-64 (docs/installing.md).")
