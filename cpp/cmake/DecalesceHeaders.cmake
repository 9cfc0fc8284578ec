# Eigen and Boost headers, from the system or from the wheels cmeel-eigen and cmeel-boost, which unpack into
# <site-packages>/cmeel.prefix, where CMake does not look by itself.
find_package(Python COMPONENTS Interpreter QUIET)
if(Python_Interpreter_FOUND)
  execute_process(
    COMMAND "${Python_EXECUTABLE}" -c
            "import sys, pathlib; print(';'.join(str(pathlib.Path(p) / 'cmeel.prefix') for p in sys.path if p))"
    OUTPUT_VARIABLE decalesce_wheel_prefixes
    OUTPUT_STRIP_TRAILING_WHITESPACE)
endif()

set(decalesce_missing "")
foreach(library IN ITEMS Eigen Boost)
  if(library STREQUAL "Eigen")
    set(header "Eigen/Core")
    set(suffixes "include/eigen3")
  else()
    set(header "boost/math/tools/roots.hpp")
    set(suffixes "include")
  endif()
  find_path(DECALESCE_${library}_INCLUDE "${header}" PATH_SUFFIXES eigen3 HINTS ENV ${library}_ROOT)
  if(NOT DECALESCE_${library}_INCLUDE)
    find_path(DECALESCE_${library}_INCLUDE "${header}" PATHS ${decalesce_wheel_prefixes} PATH_SUFFIXES ${suffixes}
              NO_DEFAULT_PATH)
  endif()
  if(NOT DECALESCE_${library}_INCLUDE)
    string(APPEND decalesce_missing " ${library}")
  endif()
endforeach()
if(decalesce_missing)
  message(FATAL_ERROR "Headers not found:${decalesce_missing}. Either install the system packages "
                      "(Debian: libeigen3-dev libboost-dev) or the wheels (pip install cmeel-eigen cmeel-boost).")
endif()
