#include "expr/value_ref.h"

namespace trivet {

ValueRef refer_to(const ExprValue& value) {
    ValueRef result;
    if (const auto* quantity = std::get_if<AnyQuantity>(&value)) {
        result.kind = ValueRef::Kind::number;
        result.si = quantity->si;
    } else if (const auto* truth = std::get_if<bool>(&value)) {
        result.kind = ValueRef::Kind::truth;
        result.truth = *truth;
    } else if (const auto* text = std::get_if<std::string>(&value)) {
        result.kind = ValueRef::Kind::text;
        result.text = *text;
    } else {
        result.unknown = &std::get<Unknown>(value);
    }
    return result;
}

ExprValue to_value(const ValueRef& value, const ExprType& type) {
    switch (value.kind) {
    case ValueRef::Kind::unknown:
        return value.unknown == nullptr ? Unknown{} : *value.unknown;
    case ValueRef::Kind::truth:
        return value.truth;
    case ValueRef::Kind::text:
        return std::string(value.text);
    case ValueRef::Kind::number: {
        const auto* dimension = std::get_if<Dimension>(&type);
        return AnyQuantity{value.si, dimension == nullptr ? dim::number : *dimension};
    }
    }
    return Unknown{};
}

} // namespace trivet
