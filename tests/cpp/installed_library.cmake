set(prefix "${BUILD}/consumer/prefix")
set(tree "${BUILD}/consumer/build")
if(SANITIZE)
  set(flags "-DCMAKE_CXX_FLAGS=-fsanitize=address,undefined")
endif()
foreach(step IN ITEMS "${CMAKE_COMMAND};--install;${BUILD};--component;cpp;--prefix;${prefix}"
                      "${CMAKE_COMMAND};-G;${GENERATOR};-S;${CONSUMER};-B;${tree};-DCMAKE_PREFIX_PATH=${prefix};${flags}"
                      "${CMAKE_COMMAND};--build;${tree}" "${tree}/consumer")
  execute_process(COMMAND ${step} RESULT_VARIABLE failed)
  if(failed)
    message(FATAL_ERROR "failed: ${step}")
  endif()
endforeach()
