// How finely a case is computed.
#pragma once

namespace updraught {

/// As a person says it.
enum class Detail { quick, usual, careful };

}  // namespace updraught
