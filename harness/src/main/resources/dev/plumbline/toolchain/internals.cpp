// Only in probe builds, before entry.cpp: what is inside a model, by name. Verilator lists the
// variables that its control file makes readable; values are taken from where the model has them.

namespace {

// A variable: all elements of an array lie one behind the other.
struct Variable final {
  std::string path;
  const char* data;
  int64_t element;  // bytes of one element
  int64_t bytes;
};

// A column that is recorded: an element of a variable, in one word or several.
struct Recorded final {
  const char* data;
  int64_t element;
  int bits;
  bool is_signed;
};

class Observer final {
 public:
  // Lists what there is, in the order of names.
  void find(VerilatedContext& context) {
    for (const auto& scope : *context.scopeNameMap()) {
      if (!scope.second->varsp()) continue;
      for (const auto& entry : *scope.second->varsp()) {
        const VerilatedVar& variable = entry.second;
        if (variable.isParam() || variable.vltype() < VLVT_UINT8 ||
            variable.vltype() > VLVT_WDATA) {
          continue;
        }
        const auto element = static_cast<int64_t>(variable.entSize());
        variables_.push_back(Variable{std::string(scope.second->name()) + "." + entry.first,
                                      static_cast<const char*>(variable.datap()), element,
                                      static_cast<int64_t>(variable.totalSize())});
      }
    }
    std::sort(variables_.begin(), variables_.end(),
              [](const Variable& a, const Variable& b) { return a.path < b.path; });
  }

  // A line for each: bytes of an element, bytes, name. Copies what fits; says how long all is.
  int64_t describe(char* to, int64_t size) const {
    std::string text;
    for (const Variable& variable : variables_) {
      text += std::to_string(variable.element) + " " + std::to_string(variable.bytes) + " " +
              variable.path + "\n";
    }
    const auto length = static_cast<int64_t>(text.size());
    std::memcpy(to, text.data(), static_cast<size_t>(std::min(length, size)));
    return length;
  }

  // Where everything is copied to, variable after variable, at the last row of each call.
  void keep_at(char* to) {
    kept_ = to;
    keep();
  }

  // Which elements are recorded from a cycle on: variable, element, bits and sign of each. Column
  // c of the n-th row is base[c * capacity + n]; rows[0] counts them.
  void record(const int64_t* list, int64_t count, int64_t* base, int64_t capacity, int64_t first,
              int64_t* rows) {
    recorded_.clear();
    for (int64_t i = 0; i < count; ++i) {
      const int64_t* const one = list + 4 * i;
      const Variable& variable = variables_[static_cast<size_t>(one[0])];
      recorded_.push_back(Recorded{variable.data + one[1] * variable.element, variable.element,
                                   static_cast<int>(one[2]), one[3] != 0});
    }
    base_ = base;
    capacity_ = capacity;
    first_ = first;
    rows_ = rows;
  }

  // The outputs of a row were sampled.
  void sampled(int64_t cycle, bool last) {
    if (last) keep();
    const int64_t row = cycle - first_;
    if (row < 0 || row >= capacity_) return;
    int64_t* to = base_ + row;
    for (const Recorded& one : recorded_) {
      for (int low = 0; low < one.bits; low += 64) {
        const int left = one.bits - low;
        uint64_t word = 0;
        std::memcpy(&word, one.data + low / 8,
                    static_cast<size_t>(std::min<int64_t>(8, one.element - low / 8)));
        *to = plumb::extend(word & plumb::mask(left), left, one.is_signed);
        to += capacity_;
      }
    }
    *rows_ = row + 1;
  }

  // Everything as it is now.
  void keep() const {
    if (!kept_) return;
    char* to = kept_;
    for (const Variable& variable : variables_) {
      std::memcpy(to, variable.data, static_cast<size_t>(variable.bytes));
      to += variable.bytes;
    }
  }

 private:
  std::vector<Variable> variables_;
  std::vector<Recorded> recorded_;
  char* kept_ = nullptr;
  int64_t* base_ = nullptr;
  int64_t capacity_ = 0;
  int64_t first_ = 0;
  int64_t* rows_ = nullptr;
};

}  // namespace
